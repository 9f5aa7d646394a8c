import type { Visit } from '../domain/visit.ts';
import { derive } from '../evaluate/derive.ts';
import { defaultSet } from '../spirometry/default-set.ts';
import type { Case } from './case.ts';

/** A teaching case as the visit that the evaluator takes, with what follows from its readings worked out. */
export const visitOf = ({ person, readings, signs, notDone, supports, wishes }: Case): Visit =>
  derive({ ...person, readings, signs, notDone, supports, wishes }, { set: defaultSet });
