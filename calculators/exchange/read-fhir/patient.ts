/** Who the bundle is about: it must be one person, and only the sex, age and height are taken. */
import type { Sex } from '../../domain/age-and-sex.ts';
import type { Path } from '../located-json.ts';
import type { Item } from './item.ts';
import { type Observation, Refusal } from './resource.ts';
import { amountOf } from './units.ts';

/** What the resources seen so far say about the person. */
export interface PersonSeen {
  /** each subject by what identifies it, with the first place that names it */
  subjects: Map<string, Path>;
  sexes: Set<Sex>;
  /** how many Patient entries of the bundle itself */
  patients: number;
}

export const nobodyYet = (): PersonSeen => ({ subjects: new Map(), sexes: new Set(), patients: 0 });

/** A Patient entry of the bundle. */
export function seePatient(person: PersonSeen, patient: object): Refusal | undefined {
  person.patients += 1;
  seeSex(person, patient);
  return person.patients > 1 ? new Refusal([], 'expected one person: this is a second Patient') : undefined;
}

/** The subject of an Observation, before anything else of it is checked: a second person must not pass unnoticed. */
export function seeSubject(person: PersonSeen, resource: object, path: Path): void {
  const { subject, contained } = resource as { subject?: unknown; contained?: unknown };
  if (subject === undefined) return;
  const key = subjectKey(subject, contained);
  if (!person.subjects.has(key)) person.subjects.set(key, [...path, 'subject']);
}

/** The Patients inside an Observation. */
export function seeContained(person: PersonSeen, { contained = [] }: Observation): void {
  for (const inner of contained) if (inner.resourceType === 'Patient') seeSex(person, inner);
}

function seeSex({ sexes }: PersonSeen, patient: object): void {
  const { gender } = patient as { gender?: unknown };
  if (gender === 'female' || gender === 'male') sexes.add(gender);
}

/** Why these cannot all be one person; undefined when they can. The place is in the whole file. */
export function morePersonsThanOne({ subjects, sexes }: PersonSeen): Refusal | undefined {
  const [, second] = [...subjects.values()];
  if (second) return new Refusal(second, 'expected one person: this is about a different subject from the first');
  if (sexes.size > 1) return new Refusal(['entry'], 'expected one person: found both female and male');
  return undefined;
}

/** A Patient inside the resource is compared by all it says, any other subject by its reference. */
function subjectKey(subject: unknown, contained: unknown): string {
  const { reference } = (subject ?? {}) as { reference?: unknown };
  const inner =
    typeof reference === 'string' && reference.startsWith('#') && Array.isArray(contained)
      ? contained.find((one) => (one as { id?: unknown } | null)?.id === reference.slice(1))
      : undefined;
  return JSON.stringify(inner ?? (typeof reference === 'string' ? reference : subject));
}

const personFields = {
  'age-years': { field: 'ageYears', name: 'Age', unit: 'a', low: 0, high: 130 },
  height: { field: 'heightCm', name: 'Height', unit: 'cm', low: 20, high: 260 },
} as const;

/** Codes of this handbook for what belongs to the person and is no measure. */
export const isPersonField = (id: string): id is keyof typeof personFields => Object.hasOwn(personFields, id);

/** Age or height on the day of the visit. */
export function personItem(id: keyof typeof personFields, observation: Observation): Item | Refusal {
  const { field, name, unit, low, high } = personFields[id];
  const amount = amountOf(observation, [unit]);
  if (amount instanceof Refusal) return amount;
  const { value } = amount;
  if (value < low || value > high)
    return new Refusal(['valueQuantity', 'value'], `expected ${low} to ${high}, found ${value}`);
  return {
    key: field,
    name,
    set: (visit) => {
      visit[field] = value;
    },
  };
}
