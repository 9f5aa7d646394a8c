import { CalculatorForm, type CalculatorFormProps } from './CalculatorForm.tsx';
import { SeriesInput } from './SeriesInput.tsx';

/** The form of a calculator that asks for a table of readings. */
export const SeriesCalculatorForm = (props: CalculatorFormProps) => <CalculatorForm {...props} Series={SeriesInput} />;
