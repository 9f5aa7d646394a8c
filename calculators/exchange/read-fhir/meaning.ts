/** What an Observation is about, by its codes: our own first, else a LOINC code that a measure carries. */
import type { Measures } from '../../domain/measure.ts';
import { loinc, ours } from '../fhir.ts';
import { isPersonField } from './patient.ts';
import { type Concept, codeIn, nameOf, type Observation } from './resource.ts';

/** More than one id where a LOINC code is shared by several measures, which then differ by posture. */
export type Meaning = { list: 'measure'; ids: string[] } | { list: 'support'; ids: [string] };

/** @returns what it is about; or, in words, why that cannot be said */
export function meaningOf(code: Concept, measures: Measures): Meaning | string {
  const local = (code.coding ?? []).filter(({ system }) => system === `${ours}measure` || system === `${ours}support`);
  const byLoinc = idsByLoinc(code, measures);
  const [own, second] = local;
  if (own) {
    const id = own.code ?? '';
    if (second) return `${nameOf(code)}: more than one code of this handbook`;
    if (own.system === `${ours}support`) return { list: 'support', ids: [id] };
    const isKnown = id === 'disease' || isPersonField(id) || Object.hasOwn(measures, id);
    if (!isKnown) return `${nameOf(code)}: not asked on the visit sheet`;
    if (byLoinc.length > 0 && !byLoinc.includes(id)) return `${nameOf(code)}: its codes are about different things`;
    return { list: 'measure', ids: [id] };
  }
  if (byLoinc.length === 0) return `${nameOf(code)}: not asked on the visit sheet`;
  const oneCode = new Set(byLoinc.map((id) => measures[id]?.loinc?.code)).size === 1;
  return oneCode ? { list: 'measure', ids: byLoinc } : `${nameOf(code)}: its codes are about different things`;
}

function idsByLoinc({ coding = [] }: Concept, measures: Measures): string[] {
  const codes = coding.filter(({ system }) => system === loinc).map(({ code }) => code);
  return Object.keys(measures).filter((id) => {
    const own = measures[id]?.loinc;
    return own !== undefined && codes.includes(own.code);
  });
}

/** The one of several measures with the same LOINC code that has the posture of the Observation. */
export function byPosture(ids: readonly string[], { method }: Observation, measures: Measures): string | undefined {
  const posture = codeIn(method, 'posture');
  const fits = ids.filter((id) => {
    const measure = measures[id];
    return posture !== undefined && measure?.kind === 'number' && measure.posture === posture;
  });
  return fits.length === 1 ? fits[0] : undefined;
}
