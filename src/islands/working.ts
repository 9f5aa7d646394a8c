import type { WorkingLine } from '../../calculators/outcome.ts';

export interface PrintedFormula {
  result: string;
  unit: string;
  text: string;
}

const functions = new Set(['exp', 'log', 'log10', 'sqrt', 'min', 'max', 'pow', 'abs']);

/** Enough digits to follow the calculation by hand; the calculation itself is unrounded. */
const digits = (value: number): string => String(Number(value.toPrecision(6))).replace('-', '\u2212');

/** `ideal weight = 50 + 0.91 × (175 − 152.4) = 70.566 kg`: a formula with the reader's own numbers in it. */
export function workingText(line: WorkingLine, formula: PrintedFormula): string {
  const numbers = formula.text
    .replace(/[A-Za-z][A-Za-z0-9]*/g, (name) => {
      const value = line.values[name];
      if (functions.has(name) || value === undefined) return name === 'log' ? 'ln' : name;
      return value < 0 ? `(${digits(value)})` : digits(value);
    })
    .replace(/ ?\* ?/g, ' \u00d7 ')
    .replace(/ - /g, ' \u2212 ');
  const words = formula.result.replace(/([a-z])([A-Z0-9])/g, '$1 $2').toLowerCase();
  return `${words} = ${numbers} = ${digits(line.value)}${formula.unit ? `\u00a0${formula.unit}` : ''}`;
}
