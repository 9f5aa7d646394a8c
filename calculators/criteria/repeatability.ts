/**
 * How much a reading can differ from one session to the next when nothing has changed in the person.
 *
 * Known for few of these tests, and for none of them in the diseases of this handbook: the figures come from healthy
 * people and from multiple sclerosis, and each says so. Where none was found the answer is 'not known', never 'no change'.
 * A change within repeatability can be real; a change beyond it can still be a bad blow.
 */
import type { UnitCode } from '../quantity.ts';
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

const notKnown: Record<string, string> = {
  snip: 'Not known in neuromuscular disease. Minimal detectable change was 5 cmH2O within a session in healthy adults of 18 to 29 (PLoS One 2023;18:e0287188, abstract) and 33 cmH2O a week apart in healthy people of 65 to 84 (Aging Clin Exp Res 2014;26:171, abstract): too far apart to choose one',
};

/**
 * @param earlier  in the measure's own unit, above 0
 * @param later    in the same unit
 */
export function repeatabilityOf(measure: string, earlier: number, later: number): Repeatability {
  const limit = limits[measure];
  if (!limit)
    return { known: false, words: notKnown[measure] ?? 'Not known: no published figure was found for this measure' };
  const change = Math.abs(later - earlier);
  const least = Math.max(limit.percent === undefined ? 0 : (limit.percent / 100) * Math.abs(earlier), limit.value ?? 0);
  // 2.00 to 1.78 is 11 per cent; binary makes it a hair less.
  return { known: true, beyond: change >= least - 1e-9, ...limit };
}
