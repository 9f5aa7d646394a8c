/**
 * Cough flows that papers and guidelines print, each with what it was measured on.
 *
 * The classic error is to compare a flow taken one way with a number found another way: 160 L/min was an
 * assisted flow at the removal of a breathing tube, 255 an unassisted flow in stable ALS, 166 an unassisted
 * flow in the middle of a chest infection. This list keeps technique, state and population beside every number.
 * It says nothing about whether a reading crosses any of them: that is the evaluator's work.
 *
 * @source  each row by its own citation; `standing` says how well the number is known
 */
import type { Standing } from '../standing.ts';
import type { Technique } from './shared-fields.ts';

export type State = 'stable' | 'infection';

export interface PublishedFlow {
  source: string;
  /** as the source prints it, L/min */
  flow: string;
  /** 'assisted' where the source counts manual help or stacking together */
  technique: Technique | 'assisted';
  state: State | 'tube-removal' | 'not-stated';
  /** what else a reader must know before using it */
  about: string;
  /** youngest age, in years, that the number is quoted for */
  fromAge: 12 | 18;
  standing: Standing;
}

export const publishedFlows: readonly PublishedFlow[] = [
  {
    source: 'AARC 2013, neuromuscular disease',
    flow: 'below 270',
    technique: 'unassisted',
    state: 'not-stated',
    about: 'help the cough, "particularly" below this; low-level evidence',
    fromAge: 12,
    standing: 'checked',
  },
  {
    source: 'Sancho 2007, ALS',
    flow: 'below 255 (4.25 L/s)',
    technique: 'unassisted',
    state: 'stable',
    about: 'predicted an ineffective cough in a later infection; 74 % sensitive, 85 % specific, 40 people',
    fromAge: 18,
    standing: 'checked',
  },
  {
    source: 'Sancho 2017, ALS, unassisted',
    flow: 'below 166 (2.77 L/s)',
    technique: 'unassisted',
    state: 'infection',
    about: 'cough not effective in that infection; 48 people',
    fromAge: 18,
    standing: 'checked',
  },
  {
    source: 'Sancho 2017, ALS, manual assist',
    flow: 'below 169 (2.82 L/s)',
    technique: 'manual',
    state: 'infection',
    about: 'cough not effective in that infection; 48 people',
    fromAge: 18,
    standing: 'checked',
  },
  {
    source: 'Sancho 2017, ALS, MI-E',
    flow: 'below 177 (2.95 L/s)',
    technique: 'mi-e',
    state: 'infection',
    about: 'cough not effective in that infection; 48 people',
    fromAge: 18,
    standing: 'checked',
  },
  {
    source: 'Bach and Saporito 1996',
    flow: '160',
    technique: 'assisted',
    state: 'tube-removal',
    about: 'below 160 all 15 failed, at 160 two of four failed, above 160 all 43 succeeded; about extubation',
    fromAge: 18,
    standing: 'checked',
  },
  {
    source: 'Chatwin and Simonds 2020, one large UK centre',
    flow: 'below 160',
    technique: 'unassisted',
    state: 'not-stated',
    about: 'where that service provided MI-E; practice, not a trial',
    fromAge: 12,
    standing: 'checked',
  },
  {
    source: 'Duchenne care considerations 2018',
    flow: 'below 270',
    technique: 'unassisted',
    state: 'not-stated',
    about: 'Duchenne muscular dystrophy only',
    fromAge: 12,
    standing: 'checked-in-summary',
  },
  {
    source: 'BTS/ACPRC 2009',
    flow: '270 or below, then 160 or below',
    technique: 'unassisted',
    state: 'stable',
    about: 'number not read at its source',
    fromAge: 18,
    standing: 'from-memory',
  },
  {
    source: 'Tzeng and Bach 2000',
    flow: 'below 270',
    technique: 'assisted',
    state: 'not-stated',
    about: 'home protocol for chest infections; later guidelines reuse the number for unassisted flow',
    fromAge: 18,
    standing: 'from-memory',
  },
  {
    source: 'BTS children 2012',
    flow: 'below 270',
    technique: 'unassisted',
    state: 'not-stated',
    about: 'over 12 years only; number not read at its source',
    fromAge: 12,
    standing: 'from-memory',
  },
];
