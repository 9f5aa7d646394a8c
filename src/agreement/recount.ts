/** Counts under how many criteria of this device's agreement it has changed. */
import { changedEvidence } from '../../calculators/agreement/agreed-evidence.ts';
import { base } from '../browser/base.ts';
import { countedOn } from './cautions.ts';
import { inForce } from './in-force.ts';
import { published } from './published.ts';
import { keep, kept } from './store.ts';

export async function recount(): Promise<void> {
  const agreement = await inForce();
  const stored = kept();
  if (agreement === undefined || stored?.agreement === undefined) return;
  const count = changedEvidence(agreement, await published(base)).length;
  // Another tab can have put another in its place meanwhile.
  if (JSON.stringify(kept()) === JSON.stringify(stored)) keep({ ...stored, changed: { on: countedOn(), count } });
}
