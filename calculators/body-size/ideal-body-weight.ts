/**
 * Ideal (predicted) body weight of an adult, and the tidal volume that is quoted per kilogram of it.
 *
 *   weight = base + 0.91 x (height - 152.4)      base 50 (male), 45.5 (female); cm and kg
 *
 * Lungs follow height, not fat: a breath is sized by the weight that a person of this height and sex
 * would ideally have. The line printed by the ARDS Network is the default; the older lines below it
 * agree near 152 cm and drift apart from there.
 *
 * @refuses under 18 years (the lines were made for adults) and under 140 cm: the line keeps falling
 *          below its range and reaches zero near 97 cm (male) and 102 cm (female)
 */

import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { isChild, type Sex } from '../domain/age-and-sex.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { show } from '../quantity.ts';
import { age, height, sex } from './shared-fields.ts';

const cm = { means: 'height', unit: 'cm', range: [140, 215] } as const;

const male = formula({
  result: 'idealWeight',
  unit: 'kg',
  text: '50 + 0.91 * (height - 152.4)',
  withUnits: '50 kg + 0.91 kg/cm * (height - 152.4 cm)',
  symbols: { height: cm },
  run: ({ height }) => 50 + 0.91 * (height - 152.4),
});

const female = formula({
  result: 'idealWeight',
  unit: 'kg',
  text: '45.5 + 0.91 * (height - 152.4)',
  withUnits: '45.5 kg + 0.91 kg/cm * (height - 152.4 cm)',
  symbols: { height: cm },
  run: ({ height }) => 45.5 + 0.91 * (height - 152.4),
});

const volume = formula({
  result: 'tidalVolume',
  unit: 'mL',
  text: 'perKilogram * idealWeight',
  symbols: {
    perKilogram: { means: 'volume for each kilogram of ideal weight', unit: 'mL/kg', range: [4, 15] },
    idealWeight: { means: 'ideal body weight', unit: 'kg', range: [30, 110] },
  },
  run: ({ perKilogram, idealWeight }) => perKilogram * idealWeight,
});

/** Per inch over 60 in, kilograms. The pound form of Hamwi is exact; its usual kilogram roundings are from memory. */
export const perInchLines = {
  'devine-1974': { name: 'Devine 1974', male: [50, 2.3], female: [45.5, 2.3] },
  'robinson-1983': { name: 'Robinson 1983', male: [52, 1.9], female: [49, 1.7] },
  'miller-1983': { name: 'Miller 1983', male: [56.2, 1.41], female: [53.1, 1.36] },
  'hamwi-1964': {
    name: 'Hamwi 1964',
    male: [106 * 0.45359237, 6 * 0.45359237],
    female: [100 * 0.45359237, 5 * 0.45359237],
  },
  'hamwi-1964-kg': { name: 'Hamwi 1964, usual kilograms', male: [48, 2.7], female: [45.5, 2.2] },
} as const;
export type PerInchLine = keyof typeof perInchLines;

/** Weight by one of the older lines, kg. @param inches height in inches; the lines start at 60 */
export const weightByLine = (line: PerInchLine, sex: Sex, inches: number): number => {
  const [base, perInch] = perInchLines[line][sex];
  return base + perInch * (inches - 60);
};

/** Volumes quoted per kilogram of ideal weight or per breath, by the setting they belong to. Never mixed. */
const settings = { homeNiv: [8, 10], lungProtective: [4, 8] } as const;

const citations: Citation[] = [
  {
    cite: 'ARDS Network. N Engl J Med 2000;342:1301-1308',
    locator: 'predicted body weight equation, as printed in Table 2 of a journal review (PMC7808064)',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Devine BJ. Drug Intell Clin Pharm 1974;8:650-655',
    locator: 'equation per inch over 60 in, from two documents that print the equation',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Hamwi 1964',
    locator: 'pound form, from a physical-examination handbook chapter',
    standing: 'checked-in-summary',
  },
  { cite: 'Robinson 1983; Miller 1983', locator: 'equations per inch over 60 in', standing: 'from-memory' },
  {
    cite: 'Home NIV volume target of 8 mL/kg, raised to 10 as needed',
    locator: 'usual quoted target; 6 to 8 is also taught',
    standing: 'from-memory',
  },
  {
    cite: 'ARDS Network. N Engl J Med 2000;342:1301-1308',
    locator: '6 mL/kg predicted weight in acute lung injury, abstract; the 4 to 8 range around it is not yet checked',
    standing: 'checked-in-summary',
  },
];

export default defineCalculator({
  id: 'ideal-body-weight',
  title: 'Ideal body weight and tidal volume',
  purpose:
    'Calculates the weight used to choose a tidal volume, and the tidal volume when it is prescribed per kilogram.',
  group: 'size',
  keywords: [
    'IBW',
    'PBW',
    'predicted body weight',
    'ideal body weight',
    'tidal volume',
    'Vt',
    'mL/kg',
    'volume target',
  ],
  fields: {
    sex,
    height,
    age: {
      ...age,
      optional: true,
      help: 'The age is used only to check that the person is an adult, because the equations are for adults.',
    },
    perKilogram: {
      kind: 'number',
      label: 'Ordered volume per kilogram',
      unit: 'mL/kg',
      plausible: [6, 12],
      hard: [3, 20],
      optional: true,
      help: 'Enter the prescribed volume per kilogram. If you enter no volume, only the ideal weight is calculated.',
    },
    perKilogramFrom: {
      kind: 'number',
      label: 'Lower end, if a range is ordered',
      unit: 'mL/kg',
      plausible: [4, 12],
      hard: [3, 20],
      optional: true,
      help: 'For an order such as 6 to 8 mL/kg, enter 6 in this field and 8 in the field above it.',
    },
  },
  formulas: { male, female, volume },
  results: {
    idealWeight: { label: 'Ideal body weight', unit: 'kg', decimals: 1, plausible: [25, 110], main: true },
    ordered: { label: 'Breath at the ordered volume', unit: 'mL', decimals: 0, plausible: [100, 1100], main: true },
    homeNiv: {
      label: 'Often quoted for home NIV (8 to 10 mL/kg)',
      unit: 'mL',
      decimals: 0,
      plausible: [150, 1100],
      help: 'The figure is not yet checked. The prescriber sets the volume.',
    },
  },
  holds: { population: 'adults', ages: '18 years and over', notFor: 'children; people under 140 cm tall' },
  cautions: [
    'The prescriber sets the tidal volume. This page only calculates the volume for an order that already exists.',
    'Tidal volumes in home NIV differ from the smaller volumes of lung-protective ventilation in acute illness and from the larger volumes of mouthpiece ventilation. Never use a tidal volume from home NIV, acute illness or mouthpiece ventilation for either of the others.',
    'Use ideal weight, not actual weight, for tidal volume, whatever the person weighs.',
  ],
  citations,
  compute: ({ sex, height, age, perKilogram, perKilogramFrom }, step) => {
    if (age !== undefined && isChild(age))
      return refuse(
        'age',
        'These equations are for adults aged 18 and over. A child\u2019s breath is sized by the paediatric team',
      );
    if (height < 140)
      return refuse(
        'height',
        `Under 140 cm the equation gives a weight that is far too small. ${show(height, 'cm', 0)} is outside it`,
      );
    const idealWeight = step(sex === 'male' ? male : female, { height });
    const home = settings.homeNiv.map((perKilogram) => perKilogram * idealWeight) as [number, number];
    return {
      results: {
        idealWeight: { value: idealWeight },
        ...(perKilogram === undefined
          ? {}
          : { ordered: orderedVolume(step(volume, { perKilogram, idealWeight }), idealWeight, perKilogramFrom) }),
        homeNiv: { value: home[0], low: home[0], high: home[1] },
      },
      tables: [otherLines(sex, height), otherSettings(idealWeight)],
    };
  },
});

/** A range where the order is one; its lower end is not above the upper. */
const orderedVolume = (value: number, idealWeight: number, from: number | undefined) =>
  from === undefined ? { value } : { value, low: Math.min(from * idealWeight, value), high: value };

function otherLines(sex: Sex, height: number): ResultTable {
  return {
    caption: 'The same height by older equations (Robinson, Miller and the kilograms of Hamwi are not yet checked)',
    columns: ['Equation', 'Weight'],
    rows: Object.entries(perInchLines).map(([id, { name }]) => ({
      label: name,
      cells: [show(weightByLine(id as PerInchLine, sex, height / 2.54), 'kg', 1)],
    })),
  };
}

function otherSettings(weight: number): ResultTable {
  const span = (range: readonly [number, number]) =>
    `${show(range[0] * weight, 'mL', 0)} to ${show(range[1] * weight, 'mL', 0)}`;
  return {
    caption: 'Not for home NIV: volumes that belong elsewhere',
    columns: ['Setting', 'Breath'],
    rows: [
      {
        label: 'Acute lung injury, intubated (4 to 8 mL/kg, 6 the usual target)',
        cells: [span(settings.lungProtective)],
      },
      {
        label: 'Mouthpiece ventilation (not yet checked: a fixed large breath, part of which leaks)',
        cells: ['700\u00a0mL to 1500\u00a0mL'],
      },
    ],
  };
}
