import type { Calculator, RawInputs } from '../../calculators/calculator.ts';

/** A calculator as a test asks it: an answer that must be one, a single number, or the problems. */
export const ask = (calculator: Calculator) => {
  const answer = (inputs: RawInputs) => {
    const outcome = calculator.calculate(inputs);
    if (!outcome.ok) throw new Error(`refused: ${JSON.stringify(outcome.problems)}`);
    return outcome;
  };
  return {
    answer,
    value: (inputs: RawInputs, result: string): number => {
      const found = answer(inputs).results[result];
      if (!found) throw new Error(`${calculator.id} gave no ${result}`);
      return found.value;
    },
    problems: (inputs: RawInputs) => {
      const outcome = calculator.calculate(inputs);
      if (outcome.ok) throw new Error(`answered: ${JSON.stringify(outcome.results)}`);
      return outcome.problems;
    },
  };
};
