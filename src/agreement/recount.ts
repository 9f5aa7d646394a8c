/**
 * Counts under how many criteria of this device's agreement the evidence has changed: for the line on every page, which is
 * too small to load the evidence itself. Asked wherever the evidence is at hand.
 */
import { changedEvidence } from '../../calculators/agreement/agreed-evidence.ts';
import type { Published } from '../../calculators/agreement/local-criteria.ts';
import { base } from '../browser/base.ts';
import { today } from '../browser/today.ts';
import { editionHere } from './edition.ts';
import { inForce } from './in-force.ts';
import { published } from './published.ts';
import { keep, kept } from './store.ts';

/** Counted anew with each copy of the handbook, and once a day: a copy can be corrected on the day it was built. */
const countedOn = (): string => {
  const { version, built } = editionHere();
  return `${version} ${built} ${today()}`;
};

export async function recount(evidence?: Published): Promise<void> {
  const on = countedOn();
  if (kept()?.agreement === undefined || kept()?.changed?.on === on) return;
  const agreement = await inForce();
  const stored = kept();
  if (agreement === undefined || stored?.agreement === undefined) return;
  const count = changedEvidence(agreement, evidence ?? (await published(base))).length;
  // Another tab can have put another in its place meanwhile.
  if (JSON.stringify(kept()) === JSON.stringify(stored)) keep({ ...stored, changed: { on, count } });
}
