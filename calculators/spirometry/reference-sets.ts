/** The sets for a forced breath, upright, in the order in which they are shown. */
import { ecsc1993 } from './ecsc-1993.ts';
import { gli2012, gliGlobal } from './gli.ts';
import { nhanes3 } from './nhanes3.ts';
import type { ReferenceSet } from './reference-set.ts';

export const forcedSets = {
  'gli-2022-global': gliGlobal,
  'gli-2012': gli2012,
  'nhanes3-1999': nhanes3,
  'ecsc-1993': ecsc1993,
} as const satisfies Record<string, ReferenceSet>;
export type ForcedSet = keyof typeof forcedSets;
