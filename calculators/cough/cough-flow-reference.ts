/**
 * Cough flow of healthy people, where it has been published.
 *
 * Three groups of numbers exist, and none of them is a threshold for support: a mean of healthy adults says how far
 * a cough has fallen, not whether it still clears the airway.
 *
 *   adults 20 to 90    mean and SD by sex (Thai adults 2019), whatever the age
 *   children 4 to 18   medians at the two ends only; the table by age was not found
 *
 * Nothing is drawn between 4 and 18 years. The medians rise with growth and differ by sex, and a straight line
 * between two ends would look like a published value without being one.
 *
 * @refuses  under 4, 19, and over 90 years: no set read here covers them
 * @source   Srithawong 2019 and Bianchi 2008, abstracts read
 */

import { age, sex } from '../body-size/shared-fields.ts';
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import type { Sex } from '../domain/age-and-sex.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { standingWords } from '../standing.ts';
import { coughFlow, emergency } from './shared-fields.ts';

/** L/min, mean and standard deviation: Srithawong 2019, abstract. */
export const adults = { male: { mean: 421.3, sd: 99.16 }, female: { mean: 325.93, sd: 68.75 } } as const;

/** L/min, 50th centile at 4 and at 18 years: Bianchi and Baiardi 2008, abstract. */
export const children = { male: { at4: 162, at18: 728 }, female: { at4: 147, at18: 488 } } as const;

const share = formula({
  result: 'percentOfMean',
  unit: '',
  text: '100 * flow / mean',
  symbols: {
    flow: { means: 'peak cough flow', unit: 'L/minute', range: [20, 1200] },
    mean: { means: 'mean of healthy adults of the same sex', unit: 'L/minute', range: [300, 450] },
  },
  run: ({ flow, mean }) => (100 * flow) / mean,
});

const citations: Citation[] = [
  {
    cite: 'Srithawong A, et al. Arch Allied Health Sci 2019;31(3):337-346',
    locator: 'abstract: means, SD, range 200 to 700 L/min, correlation with age -0.331',
    standing: 'checked',
    note: 'The abstract counts 386 people in all, but 123 men and 236 women add up to 359. The abstract does not state the scale of the meter.',
  },
  {
    cite: 'Bianchi C, Baiardi P. Am J Phys Med Rehabil 2008;87:461-467',
    locator: 'abstract: 308 boys and 341 girls, 50th centiles at 4 and at 18 years',
    standing: 'checked',
    note: 'We did not find the table of flows by age. In Bianchi\u2019s study of children, cough flow depended on height, and age added nothing.',
  },
  {
    cite: 'Nusdwinuringtyas N, Fauzan A, Rumende CM. J Indon Med Assoc 2019;69:310',
    locator: 'abstract: mean 477.17 L/min in 30 healthy young adults',
    standing: 'checked',
  },
  {
    cite: 'Review of how to use MI-E, Breathe 2008',
    locator: 'key points: 360 to 1200 L/min in a normal cough',
    standing: 'checked-in-summary',
  },
  { cite: 'Usual adult range, 360 to 840 L/min', locator: 'often quoted from Leiner 1963', standing: 'from-memory' },
];

export default defineCalculator({
  id: 'cough-flow-reference',
  title: 'Cough flow of healthy people',
  purpose: 'Shows the cough flow published for healthy people of a given age and sex.',
  group: 'cough',
  keywords: ['normal cough flow', 'reference', 'healthy', 'PCF percent', 'children', 'adults'],
  fields: {
    sex,
    age,
    flow: {
      ...coughFlow,
      optional: true,
      help: 'Enter an unassisted flow, in adults only. Leave cough flow empty to see the published figures alone.',
    },
  },
  formulas: { share },
  results: {
    adultMean: { label: 'Mean of healthy adults', unit: 'L/min', decimals: 0, plausible: [250, 500], main: true },
    adultSd: { label: 'Standard deviation', unit: 'L/min', decimals: 0, plausible: [40, 150] },
    percentOfMean: { label: 'This flow as a share of that mean', unit: '%', decimals: 0, plausible: [0, 250] },
    childAt4: { label: 'Published median at 4 years', unit: 'L/min', decimals: 0, plausible: [100, 250], main: true },
    childAt18: { label: 'Published median at 18 years', unit: 'L/min', decimals: 0, plausible: [400, 800], main: true },
  },
  holds: {
    population: 'healthy Thai adults, and to healthy children and adolescents',
    ages: 'exactly 4 or 18 years, and 20 to 90 years',
    notFor: 'deciding about support; assisted flows; children between 4 and 18 years',
  },
  before: [emergency],
  cautions: [
    'The mean in healthy people is not a threshold for support. Thresholds for support are not normal values: they come from studies of people with weak muscles.',
    'About half of healthy people have a cough flow below the mean, and half of healthy people have one below the median.',
  ],
  citations,
  compute: ({ sex, age, flow }, step) => {
    if (age < 4)
      return refuse('age', 'No cough flow of healthy children under 4 years was found. Most cannot do the test');
    if (age >= 19 && age < 20)
      return refuse(
        'age',
        'The set for children ends at 18 years and the one for adults begins at 20. Neither set covers 19 years',
      );
    if (age > 90) return refuse('age', 'The set for adults ends at 90 years');
    return age < 19 ? ofChildren(sex, flow) : ofAdults(sex, flow, step);
  },
});

type Step = (formula: typeof share, values: { flow: number; mean: number }) => number;
interface Figures {
  results: Partial<Record<'adultMean' | 'adultSd' | 'percentOfMean' | 'childAt4' | 'childAt18', { value: number }>>;
  cautions: string[];
  tables?: ResultTable[];
}

function ofChildren(sex: Sex, flow: number | undefined): Figures {
  return {
    results: { childAt4: { value: children[sex].at4 }, childAt18: { value: children[sex].at18 } },
    cautions: [
      'Only the values for 4 and 18 years were found. No number is given between them, and you should not estimate one: the table by age is in the paper.',
      ...(flow === undefined ? [] : ['No share is calculated for a child: the values by age were not found.']),
    ],
  };
}

function ofAdults(sex: Sex, flow: number | undefined, step: Step): Figures {
  const { mean, sd } = adults[sex];
  return {
    results: {
      adultMean: { value: mean },
      adultSd: { value: sd },
      ...(flow === undefined ? {} : { percentOfMean: { value: step(share, { flow, mean }) } }),
    },
    cautions: [
      'The mean is for all adults from 20 to 90. Older people have lower flows, and no values by age are published.',
    ],
    tables: [otherFigures, unchecked],
  };
}

const columns = ['Figure', 'L/min', 'People', 'Standing'];

const otherFigures: ResultTable = {
  caption: 'Other figures for healthy adults',
  columns,
  rows: [
    { label: 'Range of the Thai study', cells: ['200 to 700', 'both sexes, 20 to 90 years', standingWords.checked] },
    { label: 'Mean, Indonesia', cells: ['477', '30 young adults, both sexes', standingWords.checked] },
    {
      label: 'Normal cough, Breathe review',
      cells: ['360 to 1200', 'not stated', standingWords['checked-in-summary']],
    },
  ],
};

const unchecked: ResultTable = {
  caption: 'Not yet checked: read the source before relying on it',
  columns,
  rows: [
    {
      label: 'Usual adult range, often quoted from Leiner 1963',
      cells: ['360 to 840', 'adults', standingWords['from-memory']],
    },
  ],
};
