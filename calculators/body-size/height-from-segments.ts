/**
 * Height of a child from one bone of the arm or leg.
 *
 *   height = slope x segment + constant
 *
 * For children of 2 to 18 who cannot stand or lie straight: 2 to 12 by most lines, 6 to 18 by the knee-height
 * lines of 1994. All these lines were made on children with cerebral palsy or on healthy children, none on
 * neuromuscular disease. The Gauld line on the ulna was made for weak muscles, and is the first to try from 5 years.
 *
 * An independent study of 137 people with cerebral palsy found limits near 10 cm either way for every
 * line of this kind that it tried. That is the range shown, and not the much smaller spread that the
 * first paper is remembered to print. The lines of 1994 were not tried there; their range is 1.96 of the
 * standard errors that copies of them print.
 *
 * @refuses outside the ages of the line; a line on a segment that it was not made for
 */
import { type Citation, defineCalculator, type Formula, type NumberField } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { type Standing, standingWords } from '../standing.ts';
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

interface KneeLine {
  group: string;
  line: Formula;
  error: HeightError;
  standing: Standing;
}
const knee = (group: string, slope: number, constant: number, see: number, standing: Standing): KneeLine => ({
  group,
  line: line(slope, constant),
  error: fromStandardError(see, 'Chumlea 1994'),
  standing,
});

/**
 * Chumlea 1994 for 6 to 18 years, 18 included; knee height only. The groups are the study's own words. Three were read in
 * copies by others; for white girls the copies disagree (2.15 and 2.14).
 */
export const kneeLines = {
  'chumlea-1994-white-boys': knee('White boys', 2.22, 40.54, 4.21, 'checked-in-summary'),
  'chumlea-1994-black-boys': knee('Black boys', 2.18, 39.6, 4.58, 'checked-in-summary'),
  'chumlea-1994-white-girls': knee('White girls', 2.15, 43.21, 3.9, 'from-memory'),
  'chumlea-1994-black-girls': knee('Black girls', 2.02, 46.59, 4.39, 'checked-in-summary'),
} as const satisfies Record<string, KneeLine>;
type KneeSet = keyof typeof kneeLines;
const isKneeSet = (set: string): set is KneeSet => Object.hasOwn(kneeLines, set);

const limits = fromLimits(
  10,
  10,
  'the usual limits of agreement, near 10 cm either way, for every segment equation tried in 137 people aged 2 to 25 years with cerebral palsy',
);

interface LineSet {
  name: string;
  /** as its source prints them */
  ages: string;
  isFor: (age: number) => boolean;
  /** the one that it was made for, where it is one */
  only?: { segment: Segment; words: string };
}
const tibia2015: LineSet = {
  name: 'The tibia equation of 2015',
  ages: '3 to 12',
  isFor: (age) => age >= 3 && age <= 12,
  only: { segment: 'tibialLength', words: 'the tibia' },
};
/** Its adult lines begin at 19: someone of 18 years and eleven months is still 18. */
const chumlea1994: LineSet = {
  name: 'Chumlea 1994',
  ages: '6 to 18',
  isFor: (age) => age >= 6 && age < 19,
  only: { segment: 'kneeHeight', words: 'knee height' },
};
const sets = {
  'stevenson-1995': { name: 'Stevenson 1995', ages: '2 to 12', isFor: (age) => age >= 2 && age <= 12 },
  'tibia-2015-cerebral-palsy': tibia2015,
  'tibia-2015-typical': tibia2015,
  'chumlea-1994-white-boys': chumlea1994,
  'chumlea-1994-black-boys': chumlea1994,
  'chumlea-1994-white-girls': chumlea1994,
  'chumlea-1994-black-girls': chumlea1994,
} as const satisfies Record<string, LineSet>;

const length = {
  kind: 'number',
  label: 'Length of the segment',
  unit: 'cm',
  accepts: ['mm', '[in_i]'],
  plausible: [12, 60],
  hard: [6, 75],
  help: 'Measure the segment twice and take the mean. Record which side was measured.',
} as const satisfies NumberField;

const citations: Citation[] = [
  {
    cite: 'Stevenson RD. Arch Pediatr Adolesc Med 1995;149:658-662',
    locator: 'three equations and their spread',
    standing: 'from-memory',
    note: 'We read the abstract: 172 children with cerebral palsy, equations usable up to 12 years, R squared 0.94 to 0.97. The abstract does not print the equations; the equations and the lower age limit of 2 years come from memory. We do not use the error that we remember for these equations, 1.1 to 1.7 cm, because it is far smaller than the limits of agreement found later',
  },
  {
    cite: 'Tibial length in cerebral palsy. Brain Dev 2015;37:853-857',
    locator:
      'abstract: 50 children with cerebral palsy, 38 typically developing, 3 to 12 years; r squared 0.81 and 0.91',
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
    locator: 'knee-height equations for 6 to 18 years, with their standard errors',
    standing: 'checked-in-summary',
    note: 'We read the equations in publicly available program code, not in the paper. The slope for white girls is 2.15 in one program and 2.14 in two, so the equation for white girls is not yet checked',
  },
  guidelineAdvice,
];

export default defineCalculator({
  id: 'height-from-segments',
  title: 'Height of a child from a segment',
  purpose:
    'Estimates a child\u2019s height and the error of the estimate, using the upper arm or tibia up to age 12 years, or knee height up to age 18 years.',
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
      label: 'Equation',
      options: [
        { value: 'stevenson-1995', label: 'Stevenson 1995, 2 to 12 years (not yet checked)' },
        { value: 'tibia-2015-cerebral-palsy', label: 'Tibia 2015, cerebral palsy, 3 to 12 years' },
        { value: 'tibia-2015-typical', label: 'Tibia 2015, typically developing, 3 to 12 years' },
        { value: 'chumlea-1994-white-boys', label: 'Knee height, Chumlea 1994, White boys, 6 to 18 years' },
        { value: 'chumlea-1994-black-boys', label: 'Knee height, Chumlea 1994, Black boys, 6 to 18 years' },
        {
          value: 'chumlea-1994-white-girls',
          label: 'Knee height, Chumlea 1994, White girls, 6 to 18 years (not yet checked)',
        },
        { value: 'chumlea-1994-black-girls', label: 'Knee height, Chumlea 1994, Black girls, 6 to 18 years' },
      ],
      help: 'None of the tibia, arm and knee-height equations was made for children with neuromuscular disease. The ulna equation was made for children with neuromuscular weakness, aged 5 years and over.',
    },
  },
  formulas: {
    stevensonUpperArm: stevenson.upperArmLength,
    stevensonTibia: stevenson.tibialLength,
    stevensonKneeHeight: stevenson.kneeHeight,
    tibiaCerebralPalsy: tibia.cerebralPalsy,
    tibiaTypical: tibia.typical,
    ...Object.fromEntries(Object.entries(kneeLines).map(([set, { line }]) => [set, line])),
  },
  results: heightResults,
  holds: {
    population:
      'children with cerebral palsy and to healthy children (one tibia equation, and the knee-height equations of 1994)',
    ages: '2 to 12 years (Stevenson), 3 to 12 (tibia 2015), 6 to 18 (Chumlea 1994, knee height)',
    notFor: 'people aged 19 years and over; anyone whose knee or ankle cannot be brought to a right angle',
  },
  cautions: [
    'In 36 children, the height from the tibia equation was out by 3 cm on average, and the height from the knee-height equation by 0.2 cm (abstract, 2014).',
    'You can also measure the same limb segment at each visit. A limb segment grows with the child, and you can follow its length without an equation.',
    ...heightCautions,
  ],
  citations,
  compute: ({ age, segment, length, set }, step) => {
    const { name, ages, isFor, only }: LineSet = sets[set];
    if (!isFor(age))
      return refuse(
        'age',
        `${name} is for ${ages} years. ${showAge(age)} is outside it${age <= 12 ? '' : age < 19 ? ': use the ulna, arm span or, by knee height, Chumlea 1994' : ': use the ulna, arm span or the adult knee-height equations'}`,
      );
    if (only && segment !== only.segment)
      return refuse('segment', `${name} is for ${only.words} only. For another segment choose another equation`);
    const found = isKneeSet(set)
      ? estimated(step(kneeLines[set].line, { segment: length }), kneeLines[set].error)
      : estimated(
          step(
            set === 'stevenson-1995'
              ? stevenson[segment]
              : tibia[set === 'tibia-2015-typical' ? 'typical' : 'cerebralPalsy'],
            { segment: length },
          ),
          limits,
        );
    return {
      results: found.results,
      cautions: [...found.cautions, ...asChecked(set)],
      tables: beside(age, segment, length),
    };
  },
});

function asChecked(set: keyof typeof sets): string[] {
  if (set === 'stevenson-1995')
    return ['The Stevenson equations are not yet checked. Read the paper before relying on one.'];
  if (!isKneeSet(set)) return [];
  return [
    kneeLines[set].standing === 'from-memory'
      ? 'This equation is not yet checked: copies of it disagree by up to 0.6 cm. Read the paper before relying on it.'
      : 'This equation was read in copies by others, not in the paper. Read the paper before relying on it.',
  ];
}

function beside(age: number, segment: Segment, length: number): ResultTable[] {
  const show = (line: Formula, error: HeightError) => [showHeight(line.run({ segment: length }), error)];
  const tables: ResultTable[] = [];
  if (segment === 'tibialLength')
    tables.push({
      caption: 'The same tibia by each equation for this age',
      columns: ['Equation', 'Height and range'],
      rows: [
        ...(age >= 3
          ? [
              { label: 'Tibia 2015, cerebral palsy', cells: show(tibia.cerebralPalsy, limits) },
              { label: 'Tibia 2015, typically developing', cells: show(tibia.typical, limits) },
            ]
          : []),
        { label: 'Stevenson 1995, not yet checked', cells: show(stevenson.tibialLength, limits) },
      ],
    });
  if (segment === 'kneeHeight' && chumlea1994.isFor(age))
    tables.push({
      caption: 'These were not read in the papers themselves. Read the paper before using one',
      columns: ['Equation', 'Height and range', 'How it was checked'],
      rows: Object.values(kneeLines).map(({ group, line, error, standing }) => ({
        label: `Chumlea 1994, ${group}, 6 to 18 years`,
        cells: [...show(line, error), standingWords[standing]],
      })),
    });
  return tables;
}
