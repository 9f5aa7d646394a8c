import { MovingFigure } from './MovingFigure.tsx';
import { type ThresholdData, wideningProjection } from './widening-projection.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const WideningProjection = ({ data }: { data: ThresholdData }) => (
  <MovingFigure figure={wideningProjection} data={data} />
);
