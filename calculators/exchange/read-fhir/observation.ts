/** One Observation that the visit sheet asks for: is it a plain finding, of which day, and what does it set on the visit. */
import { hiddenCharacter } from '../../agreement/agreement.ts';
import { isCalendarDay } from '../../calendar.ts';
import type { Measure, Measures } from '../../domain/measure.ts';
import { Disease } from '../../domain/person.ts';
import { KeptSupport } from '../../visit/series.ts';
import { noteStart } from '../fhir.ts';
import type { Item } from './item.ts';
import { byPosture, type Meaning } from './meaning.ts';
import { isPersonField, personItem } from './patient.ts';
import { readingItem } from './reading.ts';
import { codeIn, leaveOtherNotes, noteAfter, type Observation, Refusal, shortened } from './resource.ts';

export interface Context {
  measures: Measures;
  /** whether a support of that id is asked on the sheet */
  isDecision: (id: string) => boolean;
}

/** What makes an Observation something else than a plain finding in this person. */
export function unfitWords(observation: Observation): string | undefined {
  const { status, focus, modifierExtension, implicitRules, valueQuantity } = observation;
  if (!['final', 'amended', 'corrected'].includes(status)) return `its status is "${status}"`;
  if (focus !== undefined) return 'it is about someone or something other than its subject';
  if (modifierExtension !== undefined || implicitRules !== undefined)
    return 'it contains rules that this handbook does not know';
  if (valueQuantity?.comparator !== undefined)
    return `a value given as "${shortened(valueQuantity.comparator)}" is not a number`;
  return undefined;
}

/** The day as it is written: by the clock of the place where the reading was taken. */
export function dayOf({ effectiveDateTime, effectiveInstant }: Observation): string | Refusal {
  const written = effectiveDateTime ?? effectiveInstant;
  const at =
    effectiveDateTime === undefined && effectiveInstant !== undefined ? 'effectiveInstant' : 'effectiveDateTime';
  if (written === undefined) return new Refusal([at], 'expected the day it was taken, found nothing');
  const [, day = '', rest = ''] = /^(\d{4}-\d{2}-\d{2})(T.+)?$/s.exec(written) ?? [];
  if (!isCalendarDay(day) || !/^(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?$/.test(rest))
    return new Refusal([at], `expected a date that exists, such as 2026-11-25, found "${shortened(written)}"`);
  return day;
}

/** @returns what to set on the visit, the person's disease, why it is refused; or nothing when `leave` was told why */
export function itemOf(
  meaning: Meaning,
  observation: Observation,
  { measures, isDecision }: Context,
  leave: (why: string) => void,
): Item | { disease: Disease } | Refusal | undefined {
  const [id = ''] = meaning.ids;
  if (meaning.list === 'support') {
    if (isDecision(id)) return supportItem(id, observation, leave);
    leave('a support that is not asked on the visit sheet');
    return undefined;
  }
  if (id === 'disease') return diseaseOf(observation);
  if (isPersonField(id)) return personItem(id, observation);
  const one = meaning.ids.length === 1 ? id : byPosture(meaning.ids, observation, measures);
  if (one === undefined) {
    leave('the posture is not given, and the code alone does not show it');
    return undefined;
  }
  const measure = measures[one];
  if (measure === undefined || measure.kind === 'schedule') {
    leave('not asked on the visit sheet');
    return undefined;
  }
  if (observation.dataAbsentReason !== undefined) return notDoneItem(one, measure, observation, leave);
  return measure.kind === 'sign'
    ? signItem(one, measure, observation)
    : readingItem(one, measure, observation, { measures, method: meaning.method }, leave);
}

function diseaseOf({ valueCodeableConcept }: Observation): { disease: Disease } | Refusal {
  const found = Disease.safeParse(codeIn(valueCodeableConcept, 'disease'));
  return found.success
    ? { disease: found.data }
    : new Refusal(['valueCodeableConcept'], 'expected a disease of the sheet');
}

/** No value, and the reason why; only our own 'Not done: ...' is a reason that the sheet asks for. */
function notDoneItem(
  id: string,
  { label }: Measure,
  { dataAbsentReason, valueQuantity, valueBoolean, valueCodeableConcept }: Observation,
  leave: (why: string) => void,
): Item | Refusal | undefined {
  const hasValue = valueQuantity !== undefined || valueBoolean !== undefined || valueCodeableConcept !== undefined;
  if (hasValue) return new Refusal(['dataAbsentReason'], 'expected a value or a reason for none, found both');
  const reason = dataAbsentReason?.text;
  if (!reason?.startsWith(noteStart.notDone)) {
    leave('no value, and the reason given is not one that the sheet uses');
    return undefined;
  }
  const why = reason.slice(noteStart.notDone.length).trim();
  if (why === '' || why.length > 300 || hiddenCharacter.test(why))
    return new Refusal(['dataAbsentReason', 'text'], 'expected some plain text of at most 300 characters');
  return {
    key: id,
    name: label,
    set: (visit) => {
      visit.notDone[id] = why;
    },
  };
}

function signItem(id: string, { label }: Measure, { valueBoolean }: Observation): Item | Refusal {
  if (valueBoolean === undefined) return new Refusal(['valueBoolean'], 'expected true or false, found nothing');
  return {
    key: id,
    name: label,
    set: (visit) => {
      visit.signs[id] = valueBoolean ? 'present' : 'absent';
    },
  };
}

function supportItem(id: string, observation: Observation, leave: (why: string) => void): Item | Refusal {
  const hours = noteAfter(observation, noteStart.hours);
  const timeOff = noteAfter(observation, noteStart.timeOff);
  const parsed = KeptSupport.safeParse({
    status: codeIn(observation.valueCodeableConcept, 'support-status'),
    ...(hours === undefined ? {} : { hours }),
    ...(timeOff === undefined ? {} : { timeOff }),
  });
  if (!parsed.success)
    return parsed.error.issues[0]?.path[0] === 'status'
      ? new Refusal(['valueCodeableConcept'], 'expected the status of the support, as a code of this handbook')
      : new Refusal(['note'], 'expected plain text of at most 300 characters');
  leaveOtherNotes(observation, [noteStart.hours, noteStart.timeOff], leave);
  return {
    key: `support ${id}`,
    name: id,
    set: (visit) => {
      visit.supports[id] = parsed.data;
    },
  };
}
