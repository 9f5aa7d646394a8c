/**
 * Cylinder sizes, country by country.
 *
 * A letter means nothing without its country: a D holds about 340 litres in the UK, 350 in the US and 1500 in
 * Australia. The two lists are therefore two types, and a size of one can never be looked up in the other.
 *
 * US letters come with a factor, litres in the cylinder for each psi on the gauge. UK letters come with the
 * litres held when full and the pressure at which they are full.
 *
 * @source  US factors and 200 psi: two general how-to articles. UK D, F and CD: a journal paper on transport
 *          oxygen (excerpt read). Every other UK size is recalled, and says so wherever it is shown.
 */
import type { ChoiceField, Citation, NumberField } from '../calculator.ts';
import { formula } from '../calculator.ts';
import { type Refusal, refuse } from '../outcome.ts';
import { convert } from '../quantity.ts';
import type { Standing } from '../standing.ts';

export const usSizes = {
  D: { litresPerPsi: 0.16, standing: 'checked-in-summary' },
  E: { litresPerPsi: 0.28, standing: 'checked-in-summary' },
  G: { litresPerPsi: 2.41, standing: 'checked-in-summary' },
  H: { litresPerPsi: 3.14, standing: 'checked-in-summary' },
  K: { litresPerPsi: 3.14, standing: 'checked-in-summary' },
  M: { litresPerPsi: 1.56, standing: 'checked-in-summary' },
} as const satisfies Record<string, { litresPerPsi: number; standing: Standing }>;

/**
 * Litres when full, and the pressure then, bar. DD and HX are filled to 200 or 230 bar: the higher is taken,
 * since the same gauge then stands for less oxygen.
 */
export const ukSizes = {
  C: { litres: 170, fullBar: 137, standing: 'from-memory' },
  D: { litres: 340, fullBar: 137, standing: 'checked' },
  CD: { litres: 460, fullBar: 230, standing: 'checked' },
  DD: { litres: 460, fullBar: 230, standing: 'from-memory' },
  ZD: { litres: 605, fullBar: 300, standing: 'from-memory' },
  E: { litres: 680, fullBar: 137, standing: 'from-memory' },
  F: { litres: 1360, fullBar: 137, standing: 'checked' },
  HX: { litres: 2300, fullBar: 230, standing: 'from-memory' },
  ZX: { litres: 3040, fullBar: 300, standing: 'from-memory' },
  G: { litres: 3400, fullBar: 137, standing: 'from-memory' },
  J: { litres: 6800, fullBar: 137, standing: 'from-memory' },
} as const satisfies Record<string, { litres: number; fullBar: number; standing: Standing }>;

type UsSize = keyof typeof usSizes;
export type UkSize = keyof typeof ukSizes;

/** Pressure at which US cylinders are full: 2000 to 2200 psi. The lower end is what a plan may count on. */
export const usFullPsi = { low: 2000, high: 2200 } as const;
/** Left in a US cylinder by the how-to articles, psi. No figure was found for the UK. */
export const usResidualPsi = 200;

export const country = {
  kind: 'choice',
  label: 'Country the cylinder comes from',
  options: [
    { value: 'us', label: 'United States' },
    { value: 'uk', label: 'United Kingdom' },
  ],
  help: 'Choose the country first, then the letter of the cylinder. The same letter means different cylinder sizes in different countries.',
} as const satisfies ChoiceField;

export const usSize = {
  kind: 'choice',
  label: 'US size',
  options: [
    { value: 'D', label: 'US D' },
    { value: 'E', label: 'US E' },
    { value: 'G', label: 'US G' },
    { value: 'H', label: 'US H' },
    { value: 'K', label: 'US K' },
    { value: 'M', label: 'US M, the large one of about 3450 L (not M6, M9, M15)' },
  ],
  optional: true,
} as const satisfies ChoiceField;

export const ukSize = {
  kind: 'choice',
  label: 'UK size',
  options: [
    { value: 'C', label: 'UK C (not yet checked)' },
    { value: 'D', label: 'UK D' },
    { value: 'CD', label: 'UK CD' },
    { value: 'DD', label: 'UK DD (not yet checked)' },
    { value: 'ZD', label: 'UK ZD (not yet checked)' },
    { value: 'E', label: 'UK E (not yet checked)' },
    { value: 'F', label: 'UK F' },
    { value: 'HX', label: 'UK HX (not yet checked)' },
    { value: 'ZX', label: 'UK ZX (not yet checked)' },
    { value: 'G', label: 'UK G (not yet checked)' },
    { value: 'J', label: 'UK J (not yet checked)' },
  ],
  optional: true,
} as const satisfies ChoiceField;

export const residual = {
  kind: 'number',
  label: 'Pressure to leave in the cylinder',
  unit: 'bar',
  accepts: ['[psi]'],
  plausible: [0, 70],
  hard: [0, 150],
  optional: true,
  help: 'For US cylinders, 200 psi is left in the cylinder unless you enter another pressure. For UK cylinders we found no figure for the pressure to leave in the cylinder, so enter your own figure. If you enter a pressure of 0, the calculation counts every litre in the cylinder.',
} as const satisfies NumberField;

export const usLitres = formula({
  result: 'litres',
  unit: 'L',
  text: 'max(gauge - residual, 0) * litresPerPsi',
  withUnits: 'max(gauge - residual, 0 psi) * litresPerPsi',
  symbols: {
    gauge: { means: 'gauge pressure', unit: 'psi', range: [0, 2200] },
    residual: { means: 'pressure left in the cylinder', unit: 'psi', range: [0, 500] },
    litresPerPsi: { means: 'factor of the US size', unit: 'L/psi', range: [0.16, 3.14] },
  },
  run: ({ gauge, residual, litresPerPsi }) => Math.max(gauge - residual, 0) * litresPerPsi,
});

export const ukLitres = formula({
  result: 'litres',
  unit: 'L',
  text: 'fullLitres * max(gauge - residual, 0) / fullPressure',
  withUnits: 'fullLitres * max(gauge - residual, 0 bar) / fullPressure',
  symbols: {
    fullLitres: { means: 'litres held by the UK size when full', unit: 'L', range: [170, 6800] },
    gauge: { means: 'gauge pressure', unit: 'bar', range: [0, 300] },
    residual: { means: 'pressure left in the cylinder', unit: 'bar', range: [0, 50] },
    fullPressure: { means: 'pressure when full', unit: 'bar', range: [137, 300] },
  },
  run: ({ fullLitres, gauge, residual, fullPressure }) => (fullLitres * Math.max(gauge - residual, 0)) / fullPressure,
});

/** Which cylinder, from the three fields; or the field that still has to be filled. */
export type Cylinder =
  | { country: 'us'; size: UsSize; litresPerPsi: number; standing: Standing }
  | { country: 'uk'; size: UkSize; litres: number; fullBar: number; standing: Standing };

export function cylinderOf(fields: {
  country: 'us' | 'uk';
  usSize: UsSize | undefined;
  ukSize: UkSize | undefined;
}): Cylinder | Refusal {
  const { usSize, ukSize } = fields;
  if (fields.country === 'us') {
    if (ukSize !== undefined)
      return refuse('ukSize', `The country is the United States, but a UK size was chosen. Clear UK ${ukSize}`);
    return usSize === undefined
      ? refuse('usSize', 'Choose the US size printed on the cylinder')
      : { country: 'us', size: usSize, ...usSizes[usSize] };
  }
  if (usSize !== undefined)
    return refuse('usSize', `The country is the United Kingdom, but a US size was chosen. Clear US ${usSize}`);
  return ukSize === undefined
    ? refuse('ukSize', 'Choose the UK size printed on the cylinder')
    : { country: 'uk', size: ukSize, ...ukSizes[ukSize] };
}

/** Pressure to leave, in bar; in the UK the reader has to type it. */
export function residualOf(cylinder: Cylinder, residualBar: number | undefined): number | Refusal {
  if (residualBar !== undefined) return residualBar;
  if (cylinder.country === 'us') return convert(usResidualPsi, '[psi]', 'bar');
  return refuse(
    'residual',
    'Enter the pressure to leave in the cylinder. No figure is published for UK cylinders; 0 counts to the last litre',
  );
}

export const cylinderCitations: readonly Citation[] = [
  {
    cite: 'US cylinder factors, 200 psi left in the cylinder',
    locator: 'two general how-to articles with worked examples (size D, 576 min; size E, 308 min)',
    standing: 'checked-in-summary',
  },
  {
    cite: 'How many oxygen cylinders do you need to take on transport? (UK sizes D, CD and F)',
    locator: 'excerpt: D 340 L and F 1360 L at 13 700 kPa, CD 460 L at 23 000 kPa',
    standing: 'checked',
  },
  {
    cite: 'UK sizes C, DD, ZD, E, HX, ZX, G and J',
    locator: 'from memory; the source was not read',
    standing: 'from-memory',
  },
  {
    cite: 'McDonald CF, et al. Adult domiciliary oxygen therapy. Thoracic Society of Australia and New Zealand 2014',
    locator:
      'table of sizes, as adapted in an Australian guideline text: in Australia, size D holds 1500 L and size C holds 550 L',
    standing: 'checked-in-summary',
    note: 'The Australian figures are used only to show that cylinder letters differ between countries.',
  },
];

/** Cautions printed beside every cylinder calculation. */
export const cylinderCautions = [
  'Cylinder letters differ between countries: a D cylinder holds about 340 L in the UK, 350 L in the US and 1500 L in Australia. If you are not sure which country\u2019s size letter a cylinder carries, read the litres on its label.',
  'Pulse (on-demand) devices use oxygen breath by breath, so a duration calculated from litres per minute does not apply to them.',
  'Gauges are not precise, and cold lowers their reading. Set off for the next cylinder before the calculated cylinder time is used up, and know where that cylinder is.',
] as const;

export const aboutStanding = (cylinder: Cylinder): string[] =>
  cylinder.standing === 'from-memory'
    ? [`The contents of a UK ${cylinder.size} are not yet checked: read the litres on its label.`]
    : [];
