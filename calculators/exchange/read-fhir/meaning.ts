/** What an Observation is about, by its codes: our own first, else a LOINC code that a measure carries. */
import type { Measures } from '../../domain/measure.ts';
import { loinc, ours } from '../fhir.ts';
import { loincRules } from '../fhir-codes.ts';
import { isPersonField } from './patient.ts';
import { type Concept, nameOf, type Observation, postureIn } from './resource.ts';

/** More than one id where a LOINC code is shared by several measures, which then differ by posture. */
export type Meaning =
  /** `method` where the code itself says how it was taken */
  { list: 'measure'; ids: string[]; method?: string | undefined } | { list: 'support'; ids: [string] };

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
    // How it was taken is written in a file of ours, and not to be read from its code a second time.
    return { list: 'measure', ids: [id] };
  }
  if (byLoinc.length === 0) return `${nameOf(code)}: not asked on the visit sheet`;
  const codes = loincCodes(code);
  const known = codes.filter((one) => idsOf(one, measures).length > 0);
  if (new Set(known).size > 1) return `${nameOf(code)}: its codes are about different things`;
  const rule = loincRules.find((one) => one.code === known[0]);
  return { list: 'measure', ids: byLoinc, method: rule?.method };
}

const loincCodes = ({ coding = [] }: Concept): string[] =>
  coding.flatMap(({ system, code }) => (system === loinc && code !== undefined ? [code] : []));

/** The measures that a LOINC code stands for. */
const idsOf = (code: string, measures: Measures): string[] => [
  ...new Set([
    ...loincRules.filter((one) => one.code === code).map(({ measure }) => measure),
    ...Object.keys(measures).filter((id) => measures[id]?.loinc?.code === code),
  ]),
];

const idsByLoinc = (concept: Concept, measures: Measures): string[] => [
  ...new Set(loincCodes(concept).flatMap((code) => idsOf(code, measures))),
];

/** The one of several measures with the same LOINC code that has the posture of the Observation. */
export function byPosture(ids: readonly string[], observation: Observation, measures: Measures): string | undefined {
  const posture = postureIn(observation)?.code;
  const fits = ids.filter((id) => {
    const measure = measures[id];
    return posture !== undefined && measure?.kind === 'number' && measure.posture === posture;
  });
  return fits.length === 1 ? fits[0] : undefined;
}
