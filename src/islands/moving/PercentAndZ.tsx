import { MovingFigure } from './MovingFigure.tsx';
import { percentAndZ } from './percent-and-z.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const PercentAndZ = () => <MovingFigure figure={percentAndZ} data={undefined} />;
