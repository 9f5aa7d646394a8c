import { MovingFigure } from './MovingFigure.tsx';
import { smallBreath } from './small-breath.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const SmallBreath = () => <MovingFigure figure={smallBreath} data={undefined} />;
