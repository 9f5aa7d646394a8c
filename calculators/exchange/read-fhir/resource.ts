/** The shapes of the FHIR resources that are read, only as far as they are read, and the coded concept they share. */
import { hiddenCharacter } from '../../agreement/agreement.ts';
import { z } from '../../domain/schema.ts';
import { ours } from '../fhir.ts';
import type { Path } from '../located-json.ts';

export const limits = { characters: 8_000_000, entries: 50_000, problems: 20 } as const;

const Coding = z.object({
  system: z.optional(z.string()),
  code: z.optional(z.string()),
  userSelected: z.optional(z.boolean()),
});
const Concept = z.object({ coding: z.optional(z.array(Coding)), text: z.optional(z.string()) });
export type Concept = z.infer<typeof Concept>;

export const Bundle = z.object({
  resourceType: z.literal('Bundle'),
  entry: z.optional(z.array(z.object({ resource: z.optional(z.unknown()) })).check(z.maxLength(limits.entries))),
});

export type Bundle = z.infer<typeof Bundle>;

/** Enough of an Observation to see what it is about; the rest is checked only when the visit sheet asks for that. */
export const CodedObservation = z.object({ resourceType: z.literal('Observation'), code: Concept });

export const Observation = z.object({
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
export type Observation = z.infer<typeof Observation>;

/** Why a resource is refused. `at` is the place below the resource. */
export class Refusal {
  readonly at: Path;
  readonly message: string;
  constructor(at: Path, message: string) {
    this.at = at;
    this.message = message;
  }
}

/** The first code of this handbook's list of that name. */
export const codeIn = (concept: Concept | undefined, list: string): string | undefined =>
  concept?.coding?.find(({ system }) => system === `${ours}${list}`)?.code;

/** The posture: a component, and in files of before it was one, the method. */
export const postureIn = ({ component = [], method }: Observation) =>
  [...component.map(({ valueCodeableConcept }) => valueCodeableConcept), method]
    .flatMap((concept) => concept?.coding ?? [])
    .find(({ system }) => system === `${ours}posture`);

/** Text of the file inside a message: short, and without characters that cannot be seen. */
export function shortened(text: string): string {
  const plain = text.replace(new RegExp(hiddenCharacter.source, 'gu'), ' ').trim();
  return plain.length > 60 ? `${plain.slice(0, 60)}\u2026` : plain;
}

/** What to call a concept in a message. */
export const nameOf = ({ text, coding }: Concept): string =>
  shortened(text ?? coding?.find(({ code }) => code !== undefined)?.code ?? '') || 'an Observation without a name';

/** The text of the first note that begins with those words, without them. */
export const noteAfter = ({ note = [] }: Observation, start: string): string | undefined =>
  note.find(({ text }) => text.startsWith(start))?.text.slice(start.length);

/** Lists a note that is not one of those beginning with the given words. */
export function leaveOtherNotes(
  { note = [] }: Observation,
  starts: readonly string[],
  leave: (why: string) => void,
): void {
  if (note.some(({ text }) => !starts.some((start) => text.startsWith(start)))) leave('its note is not kept');
}
