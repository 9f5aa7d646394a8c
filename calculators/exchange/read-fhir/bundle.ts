/** Walks the entries of a bundle and collects, for each day, what the visit sheet can take. */
import type { Disease } from '../../domain/person.ts';
import { type Path, pathWords } from '../located-json.ts';
import { type FileFault, faultAt, schemaFaults } from '../schema-faults.ts';
import type { Item } from './item.ts';
import { meaningOf } from './meaning.ts';
import { type Context, dayOf, itemOf, unfitWords } from './observation.ts';
import { nobodyYet, type PersonSeen, seeContained, seePatient, seeSubject } from './patient.ts';
import { type Bundle, CodedObservation, limits, nameOf, Observation, Refusal, shortened } from './resource.ts';

/** The whole file, for the places in messages. */
export interface FileText {
  value: unknown;
  lineOf: (path: Path) => number | undefined;
}

/** All of one day, by the key of which there may be one. */
export type Day = Map<string, { item: Item; path: Path }[]>;

export interface Collected {
  days: Map<string, Day>;
  diseases: Map<Disease, Path>;
  person: PersonSeen;
  /** where it is and why it was not taken */
  leftOut: string[];
  problems: FileFault[];
}

export function collect(entries: NonNullable<Bundle['entry']>, file: FileText, context: Context): Collected {
  const collected: Collected = {
    days: new Map(),
    diseases: new Map(),
    person: nobodyYet(),
    leftOut: [],
    problems: [],
  };
  for (const [place, { resource }] of entries.entries()) {
    if (collected.problems.length >= limits.problems) break;
    collectResource(collected, resource, ['entry', place, 'resource'], file, context);
  }
  return collected;
}

export const leaveOut = ({ leftOut }: Collected, path: Path, why: string): void =>
  void leftOut.push(`${pathWords(path)}: ${why}`);

export const refuse = ({ problems }: Collected, { lineOf }: FileText, { at, message }: Refusal): void =>
  void problems.push(faultAt(at, lineOf, message));

/** The same refusal with its place in the whole file, and the name of what it is about. */
const within = (path: Path, { at, message }: Refusal, name?: string): Refusal =>
  new Refusal([...path, ...at], name === undefined ? message : `${name}: ${message}`);

function collectResource(collected: Collected, resource: unknown, path: Path, file: FileText, context: Context): void {
  const kind = (resource as { resourceType?: unknown } | null | undefined)?.resourceType;
  if (kind === 'Patient') {
    const second = seePatient(collected.person, resource as object);
    if (second) refuse(collected, file, within(path, second));
  } else if (kind === 'Observation') collectObservation(collected, resource as object, path, file, context);
  // What the file was made with says nothing about the person.
  else if (kind !== 'Provenance')
    leaveOut(collected, path, typeof kind === 'string' ? `${shortened(kind)} is not an Observation` : 'no Observation');
}

function collectObservation(
  collected: Collected,
  resource: object,
  path: Path,
  file: FileText,
  context: Context,
): void {
  const coded = parsedAs(CodedObservation, collected, resource, path, file);
  if (coded === undefined) return;
  seeSubject(collected.person, resource, path);
  const meaning = meaningOf(coded.code, context.measures);
  if (typeof meaning === 'string') {
    leaveOut(collected, path, meaning);
    return;
  }
  const observation = parsedAs(Observation, collected, resource, path, file);
  if (observation === undefined) return;
  seeContained(collected.person, observation);

  const name = nameOf(coded.code);
  const leave = (why: string) => leaveOut(collected, path, `${name}: ${why}`);
  const unfit = unfitWords(observation);
  const day = dayOf(observation);
  if (unfit) leave(unfit);
  else if (day instanceof Refusal) refuse(collected, file, within(path, day, name));
  else {
    const item = itemOf(meaning, observation, context, leave);
    if (item instanceof Refusal) refuse(collected, file, within(path, item, name));
    else if (item !== undefined) add(collected, day, item, path);
  }
}

/** A disease belongs to the person and not to the day, yet there was a visit on that day. */
function add({ days, diseases }: Collected, date: string, item: Item | { disease: Disease }, path: Path): void {
  const day: Day = days.get(date) ?? new Map();
  days.set(date, day);
  if ('disease' in item) {
    if (!diseases.has(item.disease)) diseases.set(item.disease, [...path, 'valueCodeableConcept']);
  } else day.set(item.key, [...(day.get(item.key) ?? []), { item, path }]);
}

/** The resource in that shape; nothing when it has another, with the faults among the problems. */
function parsedAs<T>(
  schema: { safeParse: (value: unknown) => Parsed<T> },
  { problems }: Collected,
  resource: object,
  path: Path,
  { value, lineOf }: FileText,
): T | undefined {
  const parsed = schema.safeParse(resource);
  if (parsed.success) return parsed.data;
  const issues = parsed.error.issues.map((issue) => ({ ...issue, path: [...path, ...issue.path] }));
  problems.push(...schemaFaults(issues, value, lineOf));
  return undefined;
}

type Parsed<T> = { success: true; data: T } | { success: false; error: { issues: Parameters<typeof schemaFaults>[0] } };
