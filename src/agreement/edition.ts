import type { Edition } from '../../calculators/agreement/digest.ts';

/** This copy of the handbook, as the foot of every page carries it. */
export function editionHere(): Edition {
  const { edition = '', built = '' } = document.querySelector<HTMLElement>('[data-built]')?.dataset ?? {};
  return { version: edition, built };
}
