/** The agreement that a clinic has built into its own copy of the site: content/agreement/clinic.yaml, where there is one. */
import { getCollection } from 'astro:content';
import { onEvidence } from '../calculators/criteria/agreed-evidence.ts';
import type { Agreement } from '../calculators/criteria/agreement.ts';
import { pathWords } from '../calculators/criteria/located-json.ts';
import { checkAgreement, problemWords } from '../calculators/criteria/read-agreement.ts';
import { decisions, evidence } from './evidence.ts';

const published = { ...evidence, decisions };
const files = new Map((await getCollection('agreement')).map(({ id, data }) => [id, data as unknown]));

/** Held against the handbook when the site is built: one that does not fit stops the build with the place. */
function read(id: string): Agreement | undefined {
  if (!files.has(id)) return undefined;
  const checked = checkAgreement(files.get(id), published);
  if (checked.ok) return checked.agreement;
  const told = checked.problems.map(({ at, message }) =>
    problemWords(`content/agreement/${id}.yaml`, { path: pathWords(at), message }),
  );
  throw new Error(told.join('\n'));
}

export const clinic = read('clinic');

/** An invented clinic's, to look at; always on the evidence of this build. Never in force unless a reader puts it there. */
export const demonstration = (() => {
  const agreement = read('demo-tern-valley');
  return agreement && onEvidence(agreement, published, agreement.agreed);
})();
