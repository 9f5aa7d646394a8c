import { MovingFigure } from './MovingFigure.tsx';
import { oxygenAndBreath } from './oxygen-and-breath.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const OxygenAndBreath = () => <MovingFigure figure={oxygenAndBreath} data={undefined} />;
