/** The agreement that a clinic has built into its own copy of the site, where there is one; and the demonstration. */
import { getCollection } from 'astro:content';
import { changedEvidence, onEvidence } from '../../calculators/agreement/agreed-evidence.ts';
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { decisions, evidence } from '../evidence/evidence.ts';
import { digestOf } from './digest.ts';
import { agreementFromYaml } from './yaml.ts';

const published = { ...evidence, decisions };
const files = new Map((await getCollection('agreement')).map(({ id, data }) => [id, data]));

/**
 * Checked against the handbook when the site is built: one that does not fit stops the build and names the place in the
 * file.
 */
function read(id: string): Agreement | undefined {
  const file = files.get(id);
  if (file === undefined) return undefined;
  const { agreement, warnings } = agreementFromYaml(file.name, file.text, published);
  if (id === 'clinic') for (const warning of warnings) console.warn(`${file.name}: ${warning}`);
  return agreement;
}

export const clinic = read('clinic');
export const clinicDigest = clinic && (await digestOf(clinic));
/** How many of its criteria stand on evidence that has changed. */
export const clinicChanged = clinic && changedEvidence(clinic, published).length;

/** An invented clinic's, to look at; always on the evidence of this build. Never in force unless a reader puts it there. */
export const demonstration = (() => {
  const agreement = read('demo-tern-valley');
  return agreement && onEvidence(agreement, published, agreement.agreed);
})();
