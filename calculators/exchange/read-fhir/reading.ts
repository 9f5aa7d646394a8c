/** A number of a measure, with what was breathed, the posture, the method and what went wrong. */
import type { Measure, Measures } from '../../domain/measure.ts';
import { flagWords } from '../../evaluate/say.ts';
import { groupNames } from '../../spirometry/reference-set.ts';
import { forcedSets } from '../../spirometry/reference-sets.ts';
import { type KeptVisit, TypedReading } from '../../visit/series.ts';
import { noteStart, ours, postures } from '../fhir.ts';
import type { Item } from './item.ts';
import {
  codeIn,
  leaveOtherNotes,
  nameOf,
  noteAfter,
  type Observation,
  postureIn,
  Refusal,
  shortened,
} from './resource.ts';
import { type Amount, amountOf } from './units.ts';

type NumberMeasure = Extract<Measure, { kind: 'number' }>;
type Leave = (why: string) => void;

export function readingItem(
  id: string,
  measure: NumberMeasure,
  observation: Observation,
  { measures, method }: { measures: Measures /** that its LOINC code names */; method: string | undefined },
  leave: Leave,
): Item | Refusal {
  const amount = amountOf(observation, [measure.unit, ...measure.accepts]);
  if (amount instanceof Refusal) return amount;
  const item = (set: Item['set']): Item => ({ key: id, name: measure.label, set });
  if (noteAfter(observation, noteStart.from) !== undefined) return item(workedOut(observation, leave));

  const parts = partsOf(observation, leave);
  const { flags, unknown } =
    parts.flags.length > 0
      ? { flags: parts.flags, unknown: [] }
      : flagsIn(noteAfter(observation, noteStart.flagged), measure, measures);
  if (unknown.length > 0) {
    // A flag that is not understood may weaken the number. Without it, the number would say too much.
    leave(`its flag "${shortened(unknown.join('; '))}" is not known here, so the reading is left out`);
    return item(() => undefined);
  }
  const taken = methodIn(observation, measure);
  const reading = typedReading(amount, { ...parts, flags }, { ...taken, method: taken.method ?? method });
  if (reading instanceof Refusal) return reading;
  leaveOtherNotes(observation, [noteStart.flagged], leave);
  return item((visit) => {
    visit.readings[id] = reading;
  });
}

/** Worked out from other readings: the sheet works it out again, so only the reference set it used is taken. */
function workedOut(observation: Observation, leave: Leave): Item['set'] {
  const set = noteAfter(observation, noteStart.set);
  const prediction = predictionOf(set);
  if (set !== undefined && prediction === undefined) leave('its reference set is not known here');
  return (visit) => {
    if (prediction) visit.prediction = prediction;
  };
}

function typedReading(
  { text, unit }: Amount,
  { flags, gas }: ReturnType<typeof partsOf>,
  { posture, method }: ReturnType<typeof methodIn>,
): TypedReading | Refusal {
  const parsed = TypedReading.safeParse({
    text,
    unit,
    ...(gas === undefined ? {} : { gas }),
    ...(posture === undefined ? {} : { posture }),
    ...(method === undefined ? {} : { method }),
    ...(flags.length === 0 ? {} : { flags }),
  });
  if (parsed.success) return parsed.data;
  const [field] = parsed.error.issues[0]?.path ?? [];
  return field === 'method' || field === 'posture'
    ? new Refusal(['method'], 'expected plain text of at most 300 characters')
    : new Refusal(['component'], 'expected what was breathed and what went wrong, in codes of this handbook');
}

/** What was breathed and what was flagged, by our codes; any other component is listed as left out. */
function partsOf({ component = [] }: Observation, leave: Leave): { flags: string[]; gas: string | undefined } {
  const flags: string[] = [];
  let gas: string | undefined;
  for (const { code, valueCodeableConcept } of component) {
    const id = codeIn(code, 'measure');
    if (id === 'gas-breathed') gas = codeIn(valueCodeableConcept, 'gas') ?? gas;
    else if (id === 'posture') continue;
    else if (id === 'flag') flags.push(codeIn(valueCodeableConcept, 'flag') ?? '');
    else leave(`its part ${nameOf(code)} is not kept`);
  }
  return { flags, gas };
}

/** Flags of a file from before they had codes: found by the words that were written then. */
function flagsIn(written: string | undefined, measure: NumberMeasure, measures: Measures) {
  const sources = [measure, ...(measure.readFrom?.measures ?? []).map((id) => measures[id])];
  const idByWords = new Map(
    sources
      .flatMap((one) => (one?.kind === 'number' ? one.flags : []))
      .map(({ id }) => [flagWords({ value: 0, unit: measure.unit, flags: [id] }, measure, measures).join(), id]),
  );
  const words = written === undefined ? [] : written.split('; ');
  return {
    flags: words.flatMap((one) => idByWords.get(one) ?? []),
    unknown: words.filter((one) => !idByWords.has(one)),
  };
}

/** A posture that only repeats what the measure is about was not ticked then, and is not ticked now. */
function methodIn(observation: Observation, measure: NumberMeasure) {
  const coding = postureIn(observation);
  const written = observation.method;
  const isInMethod = written?.coding?.some(({ system }) => system === `${ours}posture`) === true;
  const postureText = coding?.code === undefined ? undefined : (postures as Record<string, string>)[coding.code];
  const method = withoutStart(written?.text?.trim() ?? '', isInMethod ? postureText : undefined).trim();
  const isRepeated = coding?.code === measure.posture && !coding?.userSelected;
  return {
    posture: coding === undefined || isRepeated ? undefined : coding.code,
    method: method === '' ? undefined : method,
  };
}

/** 'sitting; mask' without 'sitting' is 'mask'. */
function withoutStart(words: string, start: string | undefined): string {
  if (start === undefined) return words;
  if (words === start) return '';
  return words.startsWith(`${start}; `) ? words.slice(start.length + 2) : words;
}

function predictionOf(written: string | undefined): KeptVisit['prediction'] | undefined {
  const [set = '', group] = written?.split(' ') ?? [];
  if (!Object.hasOwn(forcedSets, set) || (group !== undefined && !Object.hasOwn(groupNames, group))) return undefined;
  return { set, ...(group === undefined ? {} : { group }) } as KeptVisit['prediction'];
}
