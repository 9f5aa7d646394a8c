/**
 * A FHIR R4 Bundle of Observations as the visits of one person: what `fhir.ts` has written, and of others' bundles what
 * carries the same codes.
 *
 * Nothing is guessed. An Observation is taken by our own code, or by a LOINC code that a measure carries as checked. One
 * that is about something else is left out and listed, and so is one whose measure or posture cannot be told. A unit that
 * the measure does not take, a missing number and a second person are refused, with path and line. Names, numbers and
 * birth dates are not taken. A value that was worked out from other readings is not taken: the sheet works it out again.
 *
 * Reading never throws and never changes anything: it gives a whole new series or the problems.
 *
 * The steps are in `read-fhir/`, in this order: `bundle` walks the entries, `meaning` finds what an Observation is about,
 * `patient` checks that it is one person, `observation`, `reading` and `units` read what it says, `result` makes the visits.
 *
 * @source  FHIR R4 (4.0.1): Bundle, Observation (`status`, `modifierExtension`, `Quantity.comparator`: what must not be read
 *          as a plain value), from the standard
 */

import type { Measures } from '../domain/measure.ts';
import { readLocatedJson } from './located-json.ts';
import { collect } from './read-fhir/bundle.ts';
import { Bundle, limits } from './read-fhir/resource.ts';
import { type ReadFhir, resultOf } from './read-fhir/result.ts';
import { faultAt, schemaFaults } from './schema-faults.ts';

export type { ReadFhir } from './read-fhir/result.ts';

/** What a bundle cannot hold, for the reader. */
export const fhirLacks =
  'The file does not contain the plan, the person\u2019s wishes, who answers, the question to the physician, or the emergency card';

/** @param isDecision  whether a support of that id is asked on the sheet */
export function fromFhir(text: string, measures: Measures, isDecision: (id: string) => boolean): ReadFhir {
  if (text.length > limits.characters)
    return {
      ok: false,
      problems: [{ path: '', line: 1, message: `expected at most ${limits.characters} characters` }],
    };
  const json = readLocatedJson(text.replace(/^\ufeff/, ''));
  if (!json.ok) return { ok: false, problems: [faultAt(json.path, () => json.line, json.message)] };
  const bundle = Bundle.safeParse(json.value);
  if (!bundle.success) return { ok: false, problems: schemaFaults(bundle.error.issues, json.value, json.lineOf) };
  return resultOf(collect(bundle.data.entry ?? [], json, { measures, isDecision }), json);
}
