import { MovingFigure } from './MovingFigure.tsx';
import { nightTrace } from './night-trace.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const NightTrace = () => <MovingFigure figure={nightTrace} data={undefined} />;
