/**
 * A FHIR R4 Bundle of Observations as the visits of one person: what `fhir.ts` has written, and of others' bundles what
 * carries the same codes.
 *
 * Nothing is guessed. An Observation is taken by our own code, or by a LOINC code that a measure carries as checked; one
 * that is about something else is left out and listed, and so is one whose measure, day or standing it does not tell. A unit
 * that the measure does not take, a number that is none and more than one person are refused, with path and line. Names,
 * numbers and birth dates are not taken. What was worked out from other readings is left to be worked out again.
 *
 * Reading never throws and never changes anything: it gives a whole new series or the problems.
 *
 * @source  FHIR R4 (4.0.1): Bundle, Observation (`status`, `modifierExtension`, `Quantity.comparator`: what must not be read
 *          as a plain value), from the standard
 */

import { hiddenCharacter } from '../agreement/agreement.ts';
import { isCalendarDay } from '../calendar.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import { Disease } from '../domain/person.ts';
import { z } from '../domain/schema.ts';
import { derive } from '../evaluate/derive.ts';
import { flagWords } from '../evaluate/say.ts';
import { isUnit } from '../quantity.ts';
import { groupNames } from '../spirometry/reference-set.ts';
import { forcedSets } from '../spirometry/reference-sets.ts';
import { KeptSupport, type KeptVisit, Series, seriesFormat, seriesVersion, TypedReading } from '../visit/series.ts';
import { loinc, noteStart, ours, postures, ucum } from './fhir.ts';
import { type Path, pathWords, readLocatedJson } from './located-json.ts';
import { type FileFault, faultAt, schemaFaults } from './schema-faults.ts';

const most = { file: 8_000_000, entries: 50_000, problems: 20 } as const;

/** What a bundle cannot hold, for the reader. */
export const fhirLacks =
  'The file does not hold what was planned, what the person wants, who answers, what is asked, or the emergency card';

export type ReadFhir =
  /** `leftOut` says each thing that was not taken: where it is and why */
  { ok: true; series: Series; leftOut: string[] } | { ok: false; problems: FileFault[] };

const Coding = z.object({
  system: z.optional(z.string()),
  code: z.optional(z.string()),
  userSelected: z.optional(z.boolean()),
});
const Concept = z.object({ coding: z.optional(z.array(Coding)), text: z.optional(z.string()) });
type Concept = z.infer<typeof Concept>;
const Bundle = z.object({
  resourceType: z.literal('Bundle'),
  entry: z.optional(z.array(z.object({ resource: z.optional(z.unknown()) })).check(z.maxLength(most.entries))),
});
const Coded = z.object({ resourceType: z.literal('Observation'), code: Concept });
const Observation = z.object({
  status: z.enum([
    'registered',
    'preliminary',
    'final',
    'amended',
    'corrected',
    'cancelled',
    'entered-in-error',
    'unknown',
  ]),
  contained: z.optional(z.array(z.looseObject({ resourceType: z.string(), id: z.optional(z.string()) }))),
  subject: z.optional(z.looseObject({ reference: z.optional(z.string()) })),
  focus: z.optional(z.unknown()),
  modifierExtension: z.optional(z.unknown()),
  implicitRules: z.optional(z.unknown()),
  effectiveDateTime: z.optional(z.string()),
  effectiveInstant: z.optional(z.string()),
  valueQuantity: z.optional(
    z.object({
      value: z.optional(z.number()),
      comparator: z.optional(z.string()),
      system: z.optional(z.string()),
      code: z.optional(z.string()),
    }),
  ),
  valueBoolean: z.optional(z.boolean()),
  valueCodeableConcept: z.optional(Concept),
  dataAbsentReason: z.optional(Concept),
  method: z.optional(Concept),
  note: z.optional(z.array(z.object({ text: z.string() }))),
  component: z.optional(z.array(z.object({ code: Concept, valueCodeableConcept: z.optional(Concept) }))),
});
type Observation = z.infer<typeof Observation>;

/** Why a resource is refused; the place is below that of the resource. */
class Refused {
  readonly at: Path;
  readonly message: string;
  constructor(at: Path, message: string) {
    this.at = at;
    this.message = message;
  }
}
const refused = (at: Path, message: string) => new Refused(at, message);

/** One thing of one visit: sets it on the visit. `key` is what there may be one of on a day. */
interface Taken {
  key: string;
  name: string;
  set: (visit: KeptVisit) => void;
}

/** @param isDecision  whether a support of that id is asked on the sheet */
export function fromFhir(text: string, measures: Measures, isDecision: (id: string) => boolean): ReadFhir {
  if (text.length > most.file)
    return { ok: false, problems: [{ path: '', line: 1, message: `expected at most ${most.file} characters` }] };
  const json = readLocatedJson(text.replace(/^\ufeff/, ''));
  if (!json.ok) return { ok: false, problems: [faultAt(json.path, () => json.line, json.message)] };
  const { lineOf } = json;
  const problems: FileFault[] = [];
  const refuse = (path: Path, message: string) => void problems.push(faultAt(path, lineOf, message));
  const bundle = Bundle.safeParse(json.value);
  if (!bundle.success) return { ok: false, problems: schemaFaults(bundle.error.issues, json.value, lineOf) };

  const leftOut: string[] = [];
  const leave = (path: Path, why: string) => void leftOut.push(`${pathWords(path)}: ${why}`);
  const days = new Map<string, Map<string, { taken: Taken; path: Path }[]>>();
  const subjects = new Map<string, Path>();
  const diseases = new Map<Disease, Path>();
  const sexes = new Set<'female' | 'male'>();
  const seesSex = (patient: object) => {
    const { gender } = patient as { gender?: unknown };
    if (gender === 'female' || gender === 'male') sexes.add(gender);
  };
  let patients = 0;

  for (const [place, { resource }] of (bundle.data.entry ?? []).entries()) {
    if (problems.length >= most.problems) break;
    const path: Path = ['entry', place, 'resource'];
    const kind = (resource as { resourceType?: unknown } | null | undefined)?.resourceType;
    if (kind === 'Patient') {
      patients += 1;
      if (patients > 1) refuse(path, 'expected one person: this is a second Patient');
      seesSex(resource as object);
      continue;
    }
    if (kind !== 'Observation') {
      leave(path, typeof kind === 'string' ? `${short(kind)} is no Observation` : 'no Observation');
      continue;
    }
    const coded = Coded.safeParse(resource);
    if (!coded.success) {
      problems.push(...within(path, coded.error.issues, json.value, lineOf));
      continue;
    }
    const subject = (resource as { subject?: unknown }).subject;
    if (subject !== undefined) {
      const key = subjectKey(subject, (resource as { contained?: unknown }).contained);
      if (!subjects.has(key)) subjects.set(key, [...path, 'subject']);
    }
    const about = meaningOf(coded.data.code, measures);
    if (typeof about === 'string') {
      leave(path, about);
      continue;
    }
    const parsed = Observation.safeParse(resource);
    if (!parsed.success) {
      problems.push(...within(path, parsed.error.issues, json.value, lineOf));
      continue;
    }
    const observation = parsed.data;
    for (const inner of observation.contained ?? []) if (inner.resourceType === 'Patient') seesSex(inner);
    const unfit = unfitWords(observation);
    if (unfit) {
      leave(path, `${named(coded.data.code)}: ${unfit}`);
      continue;
    }
    const day = dayOf(observation);
    if (day instanceof Refused) {
      refuse([...path, ...day.at], `${named(coded.data.code)}: ${day.message}`);
      continue;
    }
    const taken = take(about, observation, measures, isDecision, (why) =>
      leave(path, `${named(coded.data.code)}: ${why}`),
    );
    if (taken instanceof Refused) {
      refuse([...path, ...taken.at], `${named(coded.data.code)}: ${taken.message}`);
      continue;
    }
    if (taken === undefined) continue;
    if ('disease' in taken) {
      if (!diseases.has(taken.disease)) diseases.set(taken.disease, [...path, 'valueCodeableConcept']);
      visitOf(day);
      continue;
    }
    const visit = visitOf(day);
    visit.set(taken.key, [...(visit.get(taken.key) ?? []), { taken, path }]);
  }
  function visitOf(day: string) {
    const held = days.get(day) ?? new Map<string, { taken: Taken; path: Path }[]>();
    days.set(day, held);
    return held;
  }

  const [, second] = [...subjects.values()];
  if (second) refuse(second, 'expected one person: this is about another subject than the first');
  else if (sexes.size > 1) refuse(['entry'], 'expected one person: found both female and male');
  const [, other] = [...diseases.values()];
  if (other) refuse(other, 'expected one disease: another is told before');
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, most.problems) };

  const visits = [...days]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([date, things]) => {
      const visit: KeptVisit = {
        date,
        readings: {},
        notDone: {},
        signs: {},
        supports: {},
        prediction: { set: 'gli-2022-global' },
        wishes: [],
        answers: '',
        asked: '',
        plan: [],
      };
      for (const [first, ...others] of things.values()) {
        if (!first) continue;
        if (others.length === 0) first.taken.set(visit);
        else
          for (const { path, taken } of [first, ...others])
            leave(path, `${taken.name}: told more than once on ${date}, and which one counts is not told`);
      }
      return { ...visit, signs: ownSigns(visit) };
    });
  if (visits.length === 0)
    return {
      ok: false,
      problems: [faultAt(['entry'], lineOf, 'expected an Observation that the visit sheet knows; found none')],
    };
  const latest = <K extends 'ageYears' | 'heightCm'>(field: K) =>
    visits.findLast((visit) => visit[field] !== undefined)?.[field];
  const [disease] = diseases.keys();
  const [sex] = sexes;
  const whole = Series.safeParse({
    format: seriesFormat,
    version: seriesVersion,
    person: { disease, ageYears: latest('ageYears'), sex, heightCm: latest('heightCm') },
    visits,
  });
  // Each part was held to its schema where it stands; what is left is how many visits there are.
  if (!whole.success)
    return {
      ok: false,
      problems: whole.error.issues.map((issue) =>
        faultAt(['entry'], lineOf, `${issue.path.join('.')}: ${issue.message}`),
      ),
    };
  return { ok: true, series: whole.data, leftOut };
}

/** What an Observation is about, by its codes; or, in words, why nobody can tell. */
type Meaning = { list: 'measure'; ids: string[] } | { list: 'support'; ids: [string] };

function meaningOf(code: Concept, measures: Measures): Meaning | string {
  const codings = code.coding ?? [];
  const local = codings.filter(({ system }) => system === `${ours}measure` || system === `${ours}support`);
  const known = codings.filter(({ system }) => system === loinc).map((coding) => coding.code);
  const byLoinc = Object.keys(measures).filter(
    (id) => measures[id]?.loinc !== undefined && known.includes(measures[id].loinc.code),
  );
  const [own, second] = local;
  if (own) {
    const id = own.code ?? '';
    if (second) return `${named(code)}: more than one code of this handbook`;
    if (own.system === `${ours}support`) return { list: 'support', ids: [id] };
    const isKnown = ['age-years', 'height', 'disease'].includes(id) || Object.hasOwn(measures, id);
    if (!isKnown) return `${named(code)}: not asked on the visit sheet`;
    if (byLoinc.length > 0 && !byLoinc.includes(id)) return `${named(code)}: its codes are about different things`;
    return { list: 'measure', ids: [id] };
  }
  return byLoinc.length === 0
    ? `${named(code)}: not asked on the visit sheet`
    : new Set(byLoinc.map((id) => measures[id]?.loinc?.code)).size > 1
      ? `${named(code)}: its codes are about different things`
      : { list: 'measure', ids: byLoinc };
}

/** What makes an Observation something else than a plain finding in this person. */
function unfitWords({
  status,
  focus,
  modifierExtension,
  implicitRules,
  valueQuantity,
}: Observation): string | undefined {
  if (!['final', 'amended', 'corrected'].includes(status)) return `its status is "${status}"`;
  if (focus !== undefined) return 'it is about somebody or something else than its subject';
  if (modifierExtension !== undefined || implicitRules !== undefined) return 'it holds rules that are not known here';
  if (valueQuantity?.comparator !== undefined)
    return `a value told as "${short(valueQuantity.comparator)}" is no number`;
  return undefined;
}

function dayOf({ effectiveDateTime, effectiveInstant }: Observation): string | Refused {
  const told = effectiveDateTime ?? effectiveInstant;
  const at =
    effectiveDateTime === undefined && effectiveInstant !== undefined ? 'effectiveInstant' : 'effectiveDateTime';
  if (told === undefined) return refused([at], 'expected the day it was taken, found nothing');
  const [, day = '', rest = ''] = /^(\d{4}-\d{2}-\d{2})(T.+)?$/s.exec(told) ?? [];
  // The day as written: the clock of the place where it was taken.
  if (!isCalendarDay(day) || !/^(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?$/.test(rest))
    return refused([at], `expected a date that exists, as 2026-11-25, found "${short(told)}"`);
  return day;
}

function take(
  about: Meaning,
  observation: Observation,
  measures: Measures,
  isDecision: (id: string) => boolean,
  leave: (why: string) => void,
): Taken | { disease: Disease } | Refused | undefined {
  const [id = ''] = about.ids;
  if (about.list === 'support') {
    if (isDecision(id)) return supportOf(id, observation, leave);
    leave('a support that is not asked on the visit sheet');
    return undefined;
  }
  if (id === 'disease') {
    const found = Disease.safeParse(codeIn(observation.valueCodeableConcept, 'disease'));
    return found.success
      ? { disease: found.data }
      : refused(['valueCodeableConcept'], 'expected a disease of the sheet');
  }
  if (id === 'age-years') return personNumber(observation, 'ageYears', 'a', [0, 130]);
  if (id === 'height') return personNumber(observation, 'heightCm', 'cm', [20, 260]);
  const one = about.ids.length === 1 ? id : byPosture(about.ids, observation, measures);
  if (one === undefined) {
    leave('the posture is not told, and the code alone does not tell it');
    return undefined;
  }
  const measure = measures[one];
  if (measure === undefined || measure.kind === 'schedule') {
    leave('not asked on the visit sheet');
    return undefined;
  }
  const reason = observation.dataAbsentReason?.text;
  if (observation.dataAbsentReason !== undefined) {
    if (hasValue(observation))
      return refused(['dataAbsentReason'], 'expected a value or a reason for none, found both');
    if (reason?.startsWith(noteStart.notDone)) {
      const why = reason.slice(noteStart.notDone.length).trim();
      if (why === '' || why.length > 300 || hiddenCharacter.test(why))
        return refused(['dataAbsentReason', 'text'], 'expected some plain text of at most 300 characters');
      return {
        key: one,
        name: measure.label,
        set: (visit) => {
          visit.notDone[one] = why;
        },
      };
    }
    leave('no value, and the reason is none that the sheet asks for');
    return undefined;
  }
  if (measure.kind === 'sign') {
    const { valueBoolean } = observation;
    if (valueBoolean === undefined) return refused(['valueBoolean'], 'expected true or false, found nothing');
    return {
      key: one,
      name: measure.label,
      set: (visit) => {
        visit.signs[one] = valueBoolean ? 'present' : 'absent';
      },
    };
  }
  return readingOf(one, measure, observation, measures, leave);
}

const hasValue = (observation: Observation): boolean =>
  observation.valueQuantity !== undefined ||
  observation.valueBoolean !== undefined ||
  observation.valueCodeableConcept !== undefined;

/** The UCUM code and the number; never the unit's printed text, which is for people. */
function amountOf(
  { valueQuantity }: Observation,
  accepted: readonly string[],
): { value: number; text: string; unit: TypedReading['unit'] } | Refused {
  if (valueQuantity === undefined) return refused(['valueQuantity'], 'expected a number with its unit, found nothing');
  const { value, system, code } = valueQuantity;
  if (system !== ucum) return refused(['valueQuantity', 'system'], `expected "${ucum}"`);
  if (code === undefined || !isUnit(code) || !accepted.includes(code))
    return refused(
      ['valueQuantity', 'code'],
      `expected the unit ${accepted.map((one) => `"${one}"`).join(' or ')}, found ${code === undefined ? 'nothing' : `"${short(code)}"`}`,
    );
  if (value === undefined || !Number.isFinite(value) || /e/i.test(String(value)))
    return refused(['valueQuantity', 'value'], 'expected a number that can be typed');
  return { value, text: String(value), unit: code };
}

function personNumber(
  observation: Observation,
  field: 'ageYears' | 'heightCm',
  unit: 'a' | 'cm',
  [low, high]: [number, number],
): Taken | Refused {
  const amount = amountOf(observation, [unit]);
  if (amount instanceof Refused) return amount;
  const { value } = amount;
  if (value < low || value > high)
    return refused(['valueQuantity', 'value'], `expected ${low} to ${high}, found ${value}`);
  const name = field === 'ageYears' ? 'Age' : 'Height';
  return {
    key: field,
    name,
    set: (visit) => {
      visit[field] = value;
    },
  };
}

function supportOf(id: string, observation: Observation, leave: (why: string) => void): Taken | Refused {
  const notes = (observation.note ?? []).map(({ text }) => text);
  const told = (start: string) => notes.find((note) => note.startsWith(start))?.slice(start.length);
  const [hours, timeOff] = [told(noteStart.hours), told(noteStart.timeOff)];
  const parsed = KeptSupport.safeParse({
    status: codeIn(observation.valueCodeableConcept, 'support-status'),
    ...(hours === undefined ? {} : { hours }),
    ...(timeOff === undefined ? {} : { timeOff }),
  });
  if (!parsed.success)
    return parsed.error.issues[0]?.path[0] === 'status'
      ? refused(['valueCodeableConcept'], 'expected where the support stands, in a code of this handbook')
      : refused(['note'], 'expected plain text of at most 300 characters');
  leaveNotes(notes, [noteStart.hours, noteStart.timeOff], leave);
  return {
    key: `support ${id}`,
    name: id,
    set: (visit) => {
      visit.supports[id] = parsed.data;
    },
  };
}

function readingOf(
  id: string,
  measure: Extract<Measure, { kind: 'number' }>,
  observation: Observation,
  measures: Measures,
  leave: (why: string) => void,
): Taken | Refused {
  const amount = amountOf(observation, [measure.unit, ...measure.accepts]);
  if (amount instanceof Refused) return amount;
  const notes = (observation.note ?? []).map(({ text }) => text);
  const told = (start: string) => notes.find((note) => note.startsWith(start))?.slice(start.length);
  if (told(noteStart.from) !== undefined) {
    // Worked out: the sheet does it again from what it came from, and with the same reference set.
    const prediction = predictionOf(told(noteStart.set));
    if (told(noteStart.set) !== undefined && prediction === undefined) leave('its reference set is not known here');
    return {
      key: id,
      name: measure.label,
      set: (visit) => {
        if (prediction) visit.prediction = prediction;
      },
    };
  }
  const parts = partsOf(observation, leave);
  const { flags, unknown } =
    parts.flags.length > 0 ? { flags: parts.flags, unknown: [] } : flagsIn(told(noteStart.flagged), measure, measures);
  if (unknown.length > 0) {
    // What is not understood may be what makes the number weaker: without it the number would say too much.
    leave(`its flag "${short(unknown.join('; '))}" is not known here, so the reading is left out`);
    return { key: id, name: measure.label, set: () => undefined };
  }
  const { posture, method } = methodIn(observation.method, measure);
  const parsed = TypedReading.safeParse({
    text: amount.text,
    unit: amount.unit,
    ...(parts.gas === undefined ? {} : { gas: parts.gas }),
    ...(posture === undefined ? {} : { posture }),
    ...(method === undefined ? {} : { method }),
    ...(flags.length === 0 ? {} : { flags }),
  });
  if (!parsed.success) {
    const [field] = parsed.error.issues[0]?.path ?? [];
    return field === 'method' || field === 'posture'
      ? refused(['method'], 'expected plain text of at most 300 characters')
      : refused(['component'], 'expected what was breathed and what went wrong, in codes of this handbook');
  }
  leaveNotes(notes, [noteStart.flagged], leave);
  return {
    key: id,
    name: measure.label,
    set: (visit) => {
      visit.readings[id] = parsed.data;
    },
  };
}

function leaveNotes(notes: readonly string[], ownStarts: readonly string[], leave: (why: string) => void): void {
  if (notes.some((note) => !ownStarts.some((start) => note.startsWith(start)))) leave('its note is not kept');
}

/** What was breathed and what was flagged, by our codes; any other component is listed. */
function partsOf({ component = [] }: Observation, leave: (why: string) => void) {
  const flags: string[] = [];
  let gas: string | undefined;
  for (const { code, valueCodeableConcept } of component) {
    const id = codeIn(code, 'measure');
    if (id === 'gas-breathed') gas = codeIn(valueCodeableConcept, 'gas') ?? gas;
    else if (id === 'flag') flags.push(codeIn(valueCodeableConcept, 'flag') ?? '');
    else leave(`its part ${named(code)} is not kept`);
  }
  return { flags, gas };
}

/** Flags of a file from before they had codes: by the words that were written. */
function flagsIn(told: string | undefined, measure: Extract<Measure, { kind: 'number' }>, measures: Measures) {
  const behind = [measure, ...(measure.readFrom?.measures ?? []).map((id) => measures[id])];
  const byWords = new Map(
    behind
      .flatMap((one) => (one?.kind === 'number' ? one.flags : []))
      .map(({ id }) => [flagWords({ value: 0, unit: measure.unit, flags: [id] }, measure, measures).join(), id]),
  );
  const words = told === undefined ? [] : told.split('; ');
  return {
    flags: words.flatMap((one) => byWords.get(one) ?? []),
    unknown: words.filter((one) => !byWords.has(one)),
  };
}

/** A posture that only repeats what the measure is about was not ticked, and is not ticked now. */
function methodIn(concept: Concept | undefined, measure: Extract<Measure, { kind: 'number' }>) {
  const coding = concept?.coding?.find(({ system }) => system === `${ours}posture`);
  const words = concept?.text?.trim() ?? '';
  const said = coding?.code === undefined ? undefined : (postures as Record<string, string>)[coding.code];
  const rest =
    said === undefined
      ? words
      : words === said
        ? ''
        : words.startsWith(`${said}; `)
          ? words.slice(said.length + 2)
          : words;
  return {
    posture:
      coding === undefined || (coding.code === measure.posture && !coding.userSelected) ? undefined : coding.code,
    method: rest.trim() === '' ? undefined : rest.trim(),
  };
}

/** One LOINC code for two measures: ours tells them apart by posture. */
function byPosture(ids: readonly string[], { method }: Observation, measures: Measures): string | undefined {
  const posture = codeIn(method, 'posture');
  const fits = ids.filter((id) => {
    const measure = measures[id];
    return posture !== undefined && measure?.kind === 'number' && measure.posture === posture;
  });
  return fits.length === 1 ? fits[0] : undefined;
}

function predictionOf(told: string | undefined): KeptVisit['prediction'] | undefined {
  const [set = '', group] = told?.split(' ') ?? [];
  if (!Object.hasOwn(forcedSets, set) || (group !== undefined && !Object.hasOwn(groupNames, group))) return undefined;
  return { set, ...(group === undefined ? {} : { group }) } as KeptVisit['prediction'];
}

/** Signs as they were answered: what follows from the supports follows again, and is no answer of its own. */
function ownSigns(visit: KeptVisit): KeptVisit['signs'] {
  const supports = Object.fromEntries(Object.entries(visit.supports).map(([id, { status }]) => [id, status]));
  const follow = derive({ readings: {}, signs: {}, supports }, visit.prediction).signs;
  return Object.fromEntries(Object.entries(visit.signs).filter(([id, sign]) => follow[id] !== sign));
}

const codeIn = (concept: Concept | undefined, list: string): string | undefined =>
  concept?.coding?.find(({ system }) => system === `${ours}${list}`)?.code;

/** A person inside the resource is told apart by what is said of them, others by their reference. */
function subjectKey(subject: unknown, contained: unknown): string {
  const { reference } = (subject ?? {}) as { reference?: unknown };
  const inner =
    typeof reference === 'string' && reference.startsWith('#') && Array.isArray(contained)
      ? contained.find((one) => (one as { id?: unknown } | null)?.id === reference.slice(1))
      : undefined;
  return JSON.stringify(inner ?? (typeof reference === 'string' ? reference : subject));
}

/** Faults of one resource, with their path in the whole file. */
const within = (
  path: Path,
  issues: readonly z.core.$ZodIssue[],
  value: unknown,
  lineOf: (path: Path) => number | undefined,
): FileFault[] =>
  schemaFaults(
    issues.map((issue) => ({ ...issue, path: [...path, ...issue.path] })),
    value,
    lineOf,
  );

/** Text of the file inside a message: short, and nothing in it that cannot be seen. */
function short(text: string): string {
  const plain = text.replace(new RegExp(hiddenCharacter.source, 'gu'), ' ').trim();
  return plain.length > 60 ? `${plain.slice(0, 60)}\u2026` : plain;
}

const named = ({ text, coding }: Concept): string =>
  short(text ?? coding?.find(({ code }) => code !== undefined)?.code ?? '') || 'an Observation without a name';
