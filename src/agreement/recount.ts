/** Counts, once for each edition of the evidence, under how many criteria of this device's agreement it has changed. */
import { changedEvidence } from '../../calculators/agreement/agreed-evidence.ts';
import { base } from '../browser/base.ts';
import { inForce } from './in-force.ts';
import { published } from './published.ts';
import { keep, kept, line } from './store.ts';

export async function recount(): Promise<void> {
  const agreement = await inForce();
  const evidence = line?.dataset.evidence;
  const stored = kept();
  if (agreement === undefined || evidence === undefined || stored?.agreement === undefined) return;
  const count = changedEvidence(agreement, await published(base)).length;
  // Another tab can have put another in its place meanwhile.
  if (JSON.stringify(kept()) === JSON.stringify(stored)) keep({ ...stored, changed: { evidence, count } });
}
