import { type CoughData, coughAndFilling } from './cough-and-filling.ts';
import { MovingFigure } from './MovingFigure.tsx';

/** A file of its own, so that a page loads this figure and no other. */
export const CoughAndFilling = ({ data }: { data: CoughData }) => <MovingFigure figure={coughAndFilling} data={data} />;
