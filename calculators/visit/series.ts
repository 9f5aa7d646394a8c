/**
 * The visits of one person as a file that the reader holds: what was typed, as it was typed.
 *
 * Entries are kept as text with their unit, so that a file opened in a fresh browser shows what was written and gives the
 * same findings. There is no field for a name, a number or a date of birth; a label is the reader's own choice of words.
 *
 * Reading never changes anything: it gives a whole new series, or problems with path and line, and the caller's data is
 * left as it was. Older versions are brought up one step at a time.
 */

import { hiddenCharacter } from '../agreement/agreement.ts';
import { Unit } from '../domain/measure.ts';
import { Disease, Sex } from '../domain/person.ts';
import { isoDate, isoDateOrBlank, slug, z } from '../domain/schema.ts';
import { planStates, supportStatuses, wishList } from '../domain/visit.ts';
import { readLocatedJson } from '../exchange/located-json.ts';
import { type FileFault, faultAt, schemaFaults } from '../exchange/schema-faults.ts';
import { defaultSet } from '../spirometry/default-set.ts';
import { type Group, groupNames } from '../spirometry/reference-set.ts';
import { type ForcedSet, forcedSets } from '../spirometry/reference-sets.ts';

export const seriesFormat = 'tidemark-visits';
export const seriesVersion = 1;

/** What one file may hold. No person has so many visits; a file that claims so is not ours. */
const most = { file: 8_000_000, visits: 1000, text: 10_000, line: 300, label: 60, plan: 100, flags: 20 } as const;

/** Text as typed, perhaps empty; new lines are kept, characters that nobody can see are not taken. */
const typed = (length: number) =>
  z.string().check(
    z.maxLength(length),
    z.refine((text) => !hiddenCharacter.test(text.replace(/[\n\r\t]/g, ' ')), 'expected plain text'),
  );
const filled = (length: number) => typed(length).check(z.regex(/\S/, 'expected some text'));
/** A measure, a sign, a decision. What every object has by nature is none: looked up, it would be found. */
const id = slug.check(z.refine((text) => !(text in {}), 'expected the id of a measure'));
const age = z.number().check(z.gte(0), z.lte(130));
const height = z.number().check(z.gte(20), z.lte(260));

/** One field of the sheet, as it was typed. */
export const TypedReading = z.strictObject({
  text: typed(most.line),
  unit: Unit,
  gas: z.optional(z.enum(['air', 'oxygen', 'ventilation'])),
  posture: z.optional(z.enum(['upright', 'supine'])),
  method: z.optional(filled(most.line)),
  flags: z.optional(z.array(id).check(z.maxLength(most.flags))),
});
export type TypedReading = z.infer<typeof TypedReading>;

export const KeptSupport = z.strictObject({
  status: z.enum(supportStatuses),
  /** hours in 24, and the longest time off it, as typed */
  hours: z.optional(filled(most.line)),
  timeOff: z.optional(filled(most.line)),
});
export type KeptSupport = z.infer<typeof KeptSupport>;

/** Something to arrange. It is carried to the next visit, which opens with 'did it happen?' */
const KeptPlan = z.strictObject({
  what: typed(most.line),
  owner: typed(most.line),
  due: isoDateOrBlank,
  state: z.enum(planStates),
});
export type KeptPlan = z.infer<typeof KeptPlan>;

export const KeptVisit = z.strictObject({
  date: isoDate,
  /** on that day, where it was not what the person's entry says */
  ageYears: z.optional(age),
  heightCm: z.optional(height),
  readings: z.record(id, TypedReading),
  /** why a measure has no reading: that too is an answer */
  notDone: z.record(id, filled(most.line)),
  signs: z.record(id, z.enum(['present', 'absent'])),
  /** by decision */
  supports: z.record(id, KeptSupport),
  prediction: z.strictObject({
    set: z.enum(Object.keys(forcedSets) as [ForcedSet]),
    group: z.optional(z.enum(Object.keys(groupNames) as [Group])),
  }),
  wishes: z.array(z.enum(wishList)).check(z.maxLength(wishList.length)),
  /** who answers and how */
  answers: typed(most.text),
  /** what is asked of the physician */
  asked: typed(most.text),
  /** of whom, and by when; files written before there was a field for it have none */
  askedOf: z.optional(typed(most.line)),
  askedBy: z.optional(isoDateOrBlank),
  notes: z.optional(typed(most.text)),
  plan: z.array(KeptPlan).check(z.maxLength(most.plan)),
  /** what only the reader knows for the emergency card */
  card: z.optional(
    z.strictObject({ interface: typed(most.text), settings: typed(most.text), contacts: typed(most.text) }),
  ),
});
export type KeptVisit = z.infer<typeof KeptVisit>;

const KeptPerson = z.strictObject({
  /** what the reader calls the file; no name is asked for */
  label: z.optional(filled(most.label)),
  disease: z.optional(Disease),
  ageYears: z.optional(age),
  sex: z.optional(Sex),
  heightCm: z.optional(height),
});

export const Series = z.strictObject({
  format: z.literal(seriesFormat),
  version: z.literal(seriesVersion),
  person: KeptPerson,
  visits: z.array(KeptVisit).check(z.maxLength(most.visits)),
});
export type Series = z.infer<typeof Series>;

export type ReadSeries =
  /** `migratedFrom` is the version that the file was in, when it was an older one */
  { ok: true; series: Series; migratedFrom?: number } | { ok: false; problems: FileFault[] };

/** @returns the series with its visits in the order of their dates; or every problem with path and line */
export function readSeries(text: string): ReadSeries {
  if (text.length > most.file)
    return { ok: false, problems: [{ path: '', line: 1, message: `expected at most ${most.file} characters` }] };
  const json = readLocatedJson(text.replace(/^\ufeff/, ''));
  if (!json.ok) return { ok: false, problems: [faultAt(json.path, () => json.line, json.message)] };
  const refuse = (path: string[], message: string): ReadSeries => ({
    ok: false,
    problems: [faultAt(path, json.lineOf, message)],
  });
  if (!isGroup(json.value)) return refuse([], 'expected a saved series of visits');
  const { format, version } = json.value;
  if (format !== seriesFormat)
    return refuse(['format'], `expected "${seriesFormat}": this is not a saved series of visits`);
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0)
    return refuse(['version'], `expected a version from 0 to ${seriesVersion}`);
  if (version > seriesVersion)
    return refuse(
      ['version'],
      `the file is version ${version}, which is newer than this copy of the handbook; this copy reads up to version ${seriesVersion}`,
    );
  const hidden = pathOfProto(json.value);
  if (hidden) return { ok: false, problems: [faultAt(hidden, json.lineOf, 'no field of that name is kept here')] };
  let value: unknown = json.value;
  for (let step = version; step < seriesVersion; step += 1) value = migrations[step]?.(value) ?? value;
  const parsed = Series.safeParse(value);
  if (!parsed.success) return { ok: false, problems: schemaFaults(parsed.error.issues, value, json.lineOf) };
  const visits = [...parsed.data.visits].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  return {
    ok: true,
    series: { ...parsed.data, visits },
    ...(version === seriesVersion ? {} : { migratedFrom: version }),
  };
}

/** The file's text: indented, so that a person can read it too. */
export const writeSeries = (series: Series): string => `${JSON.stringify(series, null, 2)}\n`;

/**
 * From each older version to the next.
 *
 * 0 to 1. In version 0 a reading was a number (`value`) and not the text that was typed; a support was its status alone; a
 * plan was a list of words; and a visit had no reference set, no reasons for tests not done, no wishes and no questions.
 * The number becomes its text, the status a group, the words an item that was asked for; the set is the one that the
 * sheet then used, and what did not exist is empty.
 */
const migrations: Record<number, (old: unknown) => unknown> = {
  0: (old) =>
    isGroup(old)
      ? {
          ...old,
          version: 1,
          visits: mapList(old.visits, (visit) => ({
            notDone: {},
            signs: {},
            wishes: [],
            answers: '',
            asked: '',
            prediction: { set: defaultSet },
            ...visit,
            readings: mapGroup(visit.readings, textOfNumber),
            supports: mapGroup(visit.supports ?? {}, (status) => (typeof status === 'string' ? { status } : status)),
            plan: mapAll(visit.plan ?? [], (what) =>
              typeof what === 'string' ? { what, owner: '', due: '', state: 'asked' } : what,
            ),
          })),
        }
      : old,
};

/** The schema library passes over a field of this name in silence; a file that has one is told so. */
function pathOfProto(value: unknown, path: (string | number)[] = []): (string | number)[] | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  for (const [name, inner] of Object.entries(value)) {
    const here = [...path, Array.isArray(value) ? Number(name) : name];
    const found = name === '__proto__' ? here : pathOfProto(inner, here);
    if (found) return found;
  }
  return undefined;
}

type Loose = Record<string, unknown>;
const isGroup = (value: unknown): value is Loose =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const mapAll = (list: unknown, of: (one: unknown) => unknown): unknown => (Array.isArray(list) ? list.map(of) : list);
const mapList = (list: unknown, of: (one: Loose) => unknown): unknown =>
  mapAll(list, (one) => (isGroup(one) ? of(one) : one));
const mapGroup = (group: unknown, of: (one: unknown) => unknown): unknown =>
  isGroup(group) ? Object.fromEntries(Object.entries(group).map(([name, one]) => [name, of(one)])) : group;

function textOfNumber(reading: unknown): unknown {
  if (!isGroup(reading) || typeof reading.value !== 'number') return reading;
  const { value, ...others } = reading;
  return { text: String(value), ...others };
}
