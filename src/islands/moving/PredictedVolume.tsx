import { MovingFigure } from './MovingFigure.tsx';
import { predictedVolume } from './predicted-volume.ts';

/** A file of its own, so that a page loads this figure and no other. */
export const PredictedVolume = () => <MovingFigure figure={predictedVolume} data={undefined} />;
