/**
 * Height of a child from one bone of the arm or leg.
 *
 *   height = slope x segment + constant
 *
 * For children of 2 to 12 who cannot stand or lie straight. All these lines were made on children with
 * cerebral palsy or on healthy children, none on neuromuscular disease; the Gauld line on the ulna was,
 * and is the first to try from 5 years.
 *
 * An independent study of 137 people with cerebral palsy found limits near 10 cm either way for every
 * line of this kind that it tried. That is the range shown, and not the much smaller spread that the
 * first paper is remembered to print.
 *
 * @refuses outside the ages of the line; a tibia line on another segment
 */
import { type Citation, defineCalculator, type Formula, type NumberField } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import {
  estimated,
  fromLimits,
  fromStandardError,
  guidelineAdvice,
  type HeightError,
  heightCautions,
  heightResults,
  showAge,
  showHeight,
} from './estimated-height.ts';
import { age } from './shared-fields.ts';
import { straightLine } from './straight-line.ts';

const line = (slope: number, constant: number): Formula =>
  straightLine({ name: 'height', unit: 'cm' }, constant, { segment: slope });

const segments = {
  upperArmLength: 'Upper arm (tip of shoulder to elbow)',
  tibialLength: 'Tibia (inner knee edge to inner ankle edge)',
  kneeHeight: 'Knee height (heel to top of thigh)',
} as const;
export type Segment = keyof typeof segments;

/** Stevenson 1995, recalled. */
export const stevenson: Record<Segment, Formula> = {
  upperArmLength: line(4.35, 21.8),
  tibialLength: line(3.26, 30.8),
  kneeHeight: line(2.69, 24.2),
};

/** Tibia lines of 2015, read in the abstract. */
export const tibia = { cerebralPalsy: line(3.42, 31.82), typical: line(3.25, 34.45) } as const;

/** Chumlea 1994 for 6 to 18 years, recalled; knee height only. The groups are the study's own words. */
const recalledKnee: { group: string; line: Formula; error: HeightError }[] = (
  [
    ['White boys', 2.22, 40.54, 4.21],
    ['Black boys', 2.18, 39.6, 4.58],
    ['White girls', 2.15, 43.21, 3.9],
    ['Black girls', 2.02, 46.59, 4.39],
  ] as const
).map(([group, slope, constant, see]) => ({
  group,
  line: line(slope, constant),
  error: fromStandardError(see, 'Chumlea 1994'),
}));

const limits = fromLimits(
  10,
  10,
  'the usual limits of agreement, near 10 cm either way, for every segment line tried in 137 people of 2 to 25 years with cerebral palsy',
);

const sets = {
  'stevenson-1995': { name: 'Stevenson 1995', ages: [2, 12] },
  'tibia-2015-cerebral-palsy': { name: 'The tibia line of 2015', ages: [3, 12] },
  'tibia-2015-typical': { name: 'The tibia line of 2015', ages: [3, 12] },
} as const;

const length = {
  kind: 'number',
  label: 'Length of the segment',
  unit: 'cm',
  accepts: ['mm', '[in_i]'],
  plausible: [12, 50],
  hard: [6, 60],
  help: 'Measure twice and take the mean. Name the side.',
} as const satisfies NumberField;

const citations: Citation[] = [
  {
    cite: 'Stevenson RD. Arch Pediatr Adolesc Med 1995;149:658-662',
    locator: 'three lines and their spread',
    standing: 'from-memory',
    note: 'The abstract was read: 172 children with cerebral palsy, good to 12 years, R squared 0.94 to 0.97. It does not print the lines; the lower age of 2 is recalled too. The spread recalled with them, 1.1 to 1.7 cm, is far smaller than the limits found later and is not used',
  },
  {
    cite: 'Tibial length in cerebral palsy. Brain Dev 2015;37:853-857',
    locator:
      'abstract: 50 children with cerebral palsy, 38 typically developed, 3 to 12 years; r squared 0.81 and 0.91',
    standing: 'checked',
  },
  {
    cite: 'Haapala H, Peterson MD, Daunter A, Hurvitz EA: actual and estimated height from segments in cerebral palsy',
    locator: 'abstract: limits of agreement usually near 10 cm either way',
    standing: 'checked',
  },
  {
    cite: 'Rev Chil Pediatr 2014;85:22-30',
    locator: 'abstract: 36 children; mean error -2.96 cm by tibia, 0.21 cm by knee height',
    standing: 'checked',
  },
  {
    cite: 'Chumlea WC, Guo SS, Steinbaugh ML. J Am Diet Assoc 1994;94:1385-1388',
    locator: 'lines for 6 to 18 years',
    standing: 'from-memory',
  },
  guidelineAdvice,
];

export default defineCalculator({
  id: 'height-from-segments',
  title: 'Height of a child from a segment',
  purpose: 'Estimates the height of a child of 2 to 12 from the upper arm, the tibia or knee height, with its error.',
  group: 'size',
  keywords: [
    'tibia',
    'upper arm',
    'knee height',
    'child height',
    'segment',
    'cannot stand',
    'contracture',
    'Stevenson',
  ],
  fields: {
    age,
    segment: {
      kind: 'choice',
      label: 'Segment',
      options: Object.entries(segments).map(([value, label]) => ({ value: value as Segment, label })),
    },
    length,
    set: {
      kind: 'choice',
      label: 'Line',
      options: [
        { value: 'stevenson-1995', label: 'Stevenson 1995, 2 to 12 years (from memory, unchecked)' },
        { value: 'tibia-2015-cerebral-palsy', label: 'Tibia 2015, cerebral palsy, 3 to 12 years' },
        { value: 'tibia-2015-typical', label: 'Tibia 2015, typically developed, 3 to 12 years' },
      ],
      help: 'No line here was made on neuromuscular disease. From 5 years the ulna line was.',
    },
  },
  formulas: {
    stevensonUpperArm: stevenson.upperArmLength,
    stevensonTibia: stevenson.tibialLength,
    stevensonKneeHeight: stevenson.kneeHeight,
    tibiaCerebralPalsy: tibia.cerebralPalsy,
    tibiaTypical: tibia.typical,
    ...Object.fromEntries(recalledKnee.map(({ group, line }) => [`chumlea-1994-${group.replace(' ', '-')}`, line])),
  },
  results: heightResults,
  holds: {
    population: 'children with cerebral palsy, and typically developed children (one tibia line)',
    ages: '2 to 12 years (Stevenson), 3 to 12 (tibia 2015)',
    notFor: 'adults; children over 12',
  },
  cautions: [
    'In 36 children the tibia line was 3 cm out on average and knee height 0.2 cm (abstract, 2014).',
    'A segment can be followed by itself at each visit. It grows in step and needs no line.',
    ...heightCautions,
  ],
  citations,
  compute: ({ age, segment, length, set }, step) => {
    const { name, ages } = sets[set];
    if (age < ages[0] || age > ages[1])
      return refuse(
        'age',
        `${name} is for ${ages[0]} to ${ages[1]} years. ${showAge(age)} is outside it${age > 12 ? ': use the ulna or arm span' : ''}`,
      );
    if (set !== 'stevenson-1995' && segment !== 'tibialLength')
      return refuse('segment', `${name} is for the tibia only. For another segment choose Stevenson 1995`);
    const chosen =
      set === 'stevenson-1995' ? stevenson[segment] : tibia[set === 'tibia-2015-typical' ? 'typical' : 'cerebralPalsy'];
    const found = estimated(step(chosen, { segment: length }), limits);
    return {
      results: found.results,
      cautions: [
        ...found.cautions,
        ...(set === 'stevenson-1995'
          ? ['The Stevenson lines are from memory. Read the paper before relying on one.']
          : []),
      ],
      tables: beside(age, segment, length),
    };
  },
});

function beside(age: number, segment: Segment, length: number): ResultTable[] {
  const show = (line: Formula, error: HeightError) => [showHeight(line.run({ segment: length }), error)];
  const tables: ResultTable[] = [];
  if (segment === 'tibialLength')
    tables.push({
      caption: 'The same tibia by each line for this age',
      columns: ['Line', 'Height and range'],
      rows: [
        ...(age >= 3
          ? [
              { label: 'Tibia 2015, cerebral palsy', cells: show(tibia.cerebralPalsy, limits) },
              { label: 'Tibia 2015, typically developed', cells: show(tibia.typical, limits) },
            ]
          : []),
        { label: 'Stevenson 1995, from memory', cells: show(stevenson.tibialLength, limits) },
      ],
    });
  if (segment === 'kneeHeight' && age >= 6)
    tables.push({
      caption: 'From memory, unchecked: read the paper before using one of these',
      columns: ['Line', 'Height and range'],
      rows: recalledKnee.map(({ group, line, error }) => ({
        label: `Chumlea 1994, ${group}, 6 to 18 years`,
        cells: show(line, error),
      })),
    });
  return tables;
}
