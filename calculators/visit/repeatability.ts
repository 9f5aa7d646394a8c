/**
 * How much a reading can differ from one session to the next when nothing has changed in the person.
 *
 * Known for few of these tests, and for none of them in the diseases of this handbook: the figures come from healthy
 * people and from multiple sclerosis, and each says so. Where none was found the answer is 'not known', never 'no change'.
 * A change within repeatability can be real; a change beyond it can still be a bad blow.
 *
 * The same figures keep the interval about a line of readings from becoming too narrow (`chanceOf`): three readings that
 * happen to lie exactly on a line do not mean that the test has become exact.
 */
import { convert, type UnitCode } from '../quantity.ts';
import type { Standing } from '../standing.ts';

interface Limit {
  /** smallest change taken as more than repetition: per cent of the earlier reading, and in the measure's own unit */
  percent?: number;
  value?: number;
  unit?: UnitCode;
  /** in whom and how far apart it was found */
  found: string;
  source: string;
  standing: Standing;
}

export type Repeatability =
  | ({ known: true; beyond: boolean } & Limit)
  | { known: false /** what was looked for and not found */; words: string };

const spirometry = {
  source:
    'Pellegrino 2005 (Eur Respir J 26:948, table 12), week to week in normal subjects; and the 0.150 L between the two best blows of a session of Graham 2019 (Am J Respir Crit Care Med 200:e70)',
  standing: 'checked-in-summary',
} as const;

const limits: Record<string, Limit> = {
  'vc-litres': { percent: 11, value: 0.15, unit: 'L', found: 'healthy people, a week apart', ...spirometry },
  'vc-litres-supine': {
    percent: 11,
    value: 0.15,
    unit: 'L',
    found: 'healthy people sitting, a week apart',
    ...spirometry,
  },
  'fvc-percent': {
    percent: 11,
    found: 'healthy people, a week apart',
    source: 'Pellegrino 2005 (Eur Respir J 26:948, table 12), FVC, week to week in normal subjects',
    standing: 'checked',
  },
  'fvc-supine-percent': {
    percent: 11,
    found: 'healthy people sitting, a week apart',
    source: 'Pellegrino 2005 (Eur Respir J 26:948, table 12), FVC, week to week in normal subjects',
    standing: 'checked',
  },
  'vc-per-kilogram': {
    percent: 11,
    found: 'healthy people, a week apart',
    source: 'Pellegrino 2005 (Eur Respir J 26:948, table 12), FVC, week to week in normal subjects',
    standing: 'checked',
  },
  'fev1-percent': {
    percent: 12,
    found: 'healthy people, a week apart',
    source: 'Pellegrino 2005 (Eur Respir J 26:948, table 12), FEV1, week to week in normal subjects',
    standing: 'checked',
  },
  mip: {
    value: 15.42,
    unit: 'cm[H2O]',
    found: '61 people with multiple sclerosis, 7 to 10 days apart',
    source: 'Aguilar-Zafra 2023 (J Neurol Phys Ther 47:94, abstract): minimal detectable change',
    standing: 'checked',
  },
  mep: {
    value: 17.84,
    unit: 'cm[H2O]',
    found: '61 people with multiple sclerosis, 7 to 10 days apart',
    source: 'Aguilar-Zafra 2023 (J Neurol Phys Ther 47:94, abstract): minimal detectable change',
    standing: 'checked',
  },
};

/** Standard deviation from day to day times 1.96 x sqrt(2): two tests differ by no more, 19 times in 20. */
const carbonDioxide = {
  value: 1.96 * Math.SQRT2 * 1.06,
  unit: 'mm[Hg]',
  found: '12 healthy men, end-tidal, visits a week or more apart',
  source: 'Exp Physiol 2003;88:603 (abstract): standard deviation of 1.06 mmHg between days',
  standing: 'checked',
} as const;

/**
 * Figures from other people or another method, too weak to say that a change is more than chance. They can say that an interval
 * must be at least this wide.
 */
const forIntervals: Record<string, Limit> = {
  snip: {
    // limits of agreement between the second and the third session: -27.32 and 15.20
    value: (27.32 + 15.2) / 2,
    unit: 'cm[H2O]',
    found: '18 people after a stroke, sessions within 24 hours',
    source: 'Lewko 2021 (Physiother Res Int 26:e1892, abstract): limits of agreement',
    standing: 'checked',
  },
  paco2: carbonDioxide,
  'awake-co2-any-method': carbonDioxide,
  'morning-earlobe-pco2': { ...carbonDioxide, value: convert(carbonDioxide.value, 'mm[Hg]', 'kPa'), unit: 'kPa' },
};

const notKnown: Record<string, string> = {
  snip: 'Not known in neuromuscular disease. Minimal detectable change was 5 cmH2O within a session in healthy adults aged 18 to 29 (PLoS One 2023;18:e0287188, abstract) and 33 cmH2O a week apart in healthy people aged 65 to 84 (Aging Clin Exp Res 2014;26:171, abstract); after a stroke two sessions of a day differed by up to 21 cmH2O (Lewko 2021, Physiother Res Int 26:e1892, abstract): too far apart to choose one',
};

/** Smallest difference between two tests that is taken as more than repetition, in the measure's own unit. */
const smallest = ({ percent = 0, value = 0 }: Limit, reading: number): number =>
  Math.max((percent / 100) * Math.abs(reading), value);

/**
 * @param earlier  in the measure's own unit, above 0
 * @param later    in the same unit
 */
export function repeatabilityOf(measure: string, earlier: number, later: number): Repeatability {
  const limit = limits[measure];
  if (!limit)
    return {
      known: false,
      words: notKnown[measure] ?? 'Not known, because no published figure was found for this measure',
    };
  const change = Math.abs(later - earlier);
  // 2.00 to 1.78 is 11 per cent; binary makes it a hair less.
  return { known: true, beyond: change >= smallest(limit, earlier) - 1e-9, ...limit };
}

/** The figure that an interval rests on at least, with where it comes from. */
export interface Chance extends Limit {
  /** difference between two tests that repetition alone can make, in the measure's own unit */
  difference: number;
}

/**
 * @param reading  about which, in the measure's own unit: the mean of the readings of a line
 * @returns undefined where no figure is published: then no interval can be given either
 */
export function chanceOf(measure: string, reading: number): Chance | undefined {
  const limit = limits[measure] ?? forIntervals[measure];
  return limit && { ...limit, difference: smallest(limit, reading) };
}
