/**
 * Formulas as MathML, made when the site is built: mathjs reads the declared text, temml sets it. Nothing of either
 * reaches the reader's browser.
 */
import { type MathNode, parse } from 'mathjs';
import temml from 'temml';

/** Symbols that the trade writes in its own way. */
const written: Record<string, string> = {
  bmi: 'BMI',
  co2Output: 'CO2 output',
  fev1: 'FEV1',
  fev1Percent: 'FEV1 percent',
  fio2: 'FiO2',
  paco2: 'PaCO2',
  pb: 'PB',
  ph: 'pH',
  po2: 'PO2',
};

/** `idealWeight` becomes 'ideal weight': what a reader would call it. */
export const symbolWords = (name: string): string =>
  written[name] ??
  name
    .replace(/([a-z])([A-Z0-9])/g, '$1 $2')
    .replace(/ ([A-Z])(?=[a-z])/g, (_, letter: string) => ` ${letter.toLowerCase()}`)
    .replace(/\bz ?score/i, 'z-score');

// Only symbols are set by hand. An operator handler would lose the parentheses: a wrong formula on the page.
const handler = (node: MathNode): string | undefined => {
  if (node.type !== 'SymbolNode') return undefined;
  const { name } = node as MathNode & { name: string };
  return /^[A-Za-z]$/.test(name) ? name : `\\text{${symbolWords(name)}}`;
};

export function formulaMathml(result: string, text: string): string {
  const right = parse(text).toTex({ parenthesis: 'keep', handler });
  const left = handler(parse(result));
  return temml
    .renderToString(`${left} = ${right}`, { displayMode: true, throwOnError: true })
    .replace(/ style="[^"]*"/g, '');
}

/** The same formula as plain text, for screens without MathML. */
export const formulaText = (result: string, text: string): string =>
  `${symbolWords(result)} = ${text
    .replace(/[A-Za-z][A-Za-z0-9]*/g, (name) =>
      /^(exp|log|log10|sqrt|min|max|pow|abs)$/.test(name) ? name : symbolWords(name),
    )
    .replace(/ ?\* ?/g, ' \u00d7 ')
    .replace(/ - /g, ' \u2212 ')}`;
