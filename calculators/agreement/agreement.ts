import { comparators } from '../domain/comparator.ts';
import { supports, urgencies } from '../domain/criterion.ts';
import { diseases } from '../domain/diseases.ts';
import { Unit } from '../domain/measure.ts';
import { Sex } from '../domain/person.ts';
import { isoDate, z } from '../domain/schema.ts';
import { type Group, groupNames } from '../spirometry/reference-set.ts';
import type { ForcedSet } from '../spirometry/reference-sets.ts';

/** Limits of an agreement. A file or link from elsewhere is checked against them before it is used. */
export const limits = {
  /** characters of a whole file */
  file: 200_000,
  name: 120,
  line: 200,
  reason: 600,
  roles: 20,
  phones: 12,
  waits: 30,
  waitWeeks: 260,
  marks: 150,
  /** published criteria recorded beside one of its own, and characters of each */
  was: 200,
  says: 500,
  /** lines of dissent, and of open questions */
  minutes: 40,
  revision: 999,
} as const;

/**
 * Characters that change how a line reads without being seen: a number can be made to read backwards. The two joiners
 * (U+200C and U+200D) are letters' business in several scripts, and in nothing else: hidden beside a digit or a Latin letter.
 */
export const hiddenCharacter =
  /[\p{Cc}\u00ad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff]|(?<![^\p{ASCII}])[\u200c\u200d]|[\u200c\u200d](?![^\p{ASCII}])|\p{Cs}/u;

/** One line that a reader sees: some text, nothing hidden, not too long. */
const line = (most: number) =>
  z.string().check(
    z.regex(/\S/, 'expected some text'),
    z.maxLength(most),
    z.refine((text) => !hiddenCharacter.test(text), 'expected plain text'),
  );

const localId = z
  .string()
  .check(z.maxLength(80), z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected lower-case words joined by hyphens'));
const shortCheck = z.string().check(z.regex(/^[0-9a-z]{1,13}$/, 'expected a check value of letters and digits'));
const aboveZero = z.number().check(z.positive());
const count = z.number().check(z.int(), z.minimum(0), z.maximum(60));

const phoneNumber = /^\+?[0-9(][0-9 ()./-]{1,28}( ?(ext|x)\.? ?[0-9]{1,6})?$/i;

export const isPhoneNumber = (text: string): boolean => phoneNumber.test(text);

/** One comparison that a rule asks besides its main one. */
const Part = z.strictObject({
  measure: localId,
  comparator: z.enum(comparators),
  value: z.optional(aboveZero),
  unit: z.optional(Unit),
  minAgeYears: z.optional(z.number()),
  unanswered: z.optional(z.literal('met')),
  /** printed for an exception: 'unless the written plan names ...' */
  note: z.optional(line(limits.line)),
});

/**
 * What else the published rule asks that a criterion was taken from, copied whole: the agreed rule then never changes
 * under the team when the handbook's row does.
 */
export const AgreedRule = z.strictObject({
  support: z.optional(z.enum(supports)),
  urgency: z.optional(z.enum(urgencies)),
  use: z.optional(z.enum(['decision', 'evidence', 'caution', 'schedule', 'setting'])),
  atThreshold: z.optional(z.literal('cannot-tell')),
  posture: z.optional(z.enum(['upright', 'supine'])),
  anyGas: z.optional(z.literal(true)),
  acute: z.optional(z.literal(true)),
  minAgeYears: z.optional(z.number()),
  maxAgeYears: z.optional(z.number()),
  notFor: z.optional(
    z.strictObject({
      diseases: z.array(z.enum(diseases)).check(z.minLength(1), z.maxLength(diseases.length)),
      because: line(limits.reason),
    }),
  ),
  attentionWhen: z.optional(z.literal('not-met')),
  act: z.optional(line(limits.line)),
  urgentPage: z.optional(z.string().check(z.regex(/^\/[a-z0-9/-]+\/$/), z.maxLength(100))),
  alternative: z.optional(Part),
  alsoRequires: z.optional(
    z
      .array(z.union([z.strictObject({ anyOf: z.array(localId).check(z.minLength(1), z.maxLength(40)) }), Part]))
      .check(z.maxLength(10)),
  ),
});
export type AgreedRule = z.infer<typeof AgreedRule>;

/** That someone in the clinic has read the source of a number which nobody on this project has. */
export const SourceRead = z.strictObject({ role: line(limits.name), date: isoDate, locator: line(limits.line) });
export type SourceRead = z.infer<typeof SourceRead>;

/** One criterion that a clinic has set: a published one adopted, one with another value, or one of its own. */
export const AgreedCriterion = z.strictObject({
  id: localId,
  decision: localId,
  disease: z.enum([...diseases, 'any']),
  population: z.enum(['adult', 'child', 'any']),
  sex: z.optional(Sex),
  measure: localId,
  comparator: z.enum(comparators),
  /** the threshold, with its unit; neither where the measure is a sign */
  value: z.optional(aboveZero),
  unit: z.optional(Unit),
  /** id of the published criterion that was adopted, or departed from */
  basis: z.optional(localId),
  rule: z.optional(AgreedRule),
  /** why; needed unless the criterion is a published one adopted as it is */
  reason: z.optional(line(limits.reason)),
  read: z.optional(SourceRead),
  /** check value of the published criteria that stood beside it when it was agreed, or was last looked at */
  beside: z.optional(shortCheck),
  /** those criteria: what each said, by its id. A record; left out of the digest and of the QR code */
  was: z.optional(
    z
      .record(localId, line(limits.says))
      .check(z.refine((rows) => Object.keys(rows).length <= limits.was, `expected at most ${limits.was} criteria`)),
  ),
  /** the day the team looked again at what is published beside it, after that had changed */
  looked: z.optional(isoDate),
});
export type AgreedCriterion = z.infer<typeof AgreedCriterion>;

/** How far an agreement has got. A file of the version before does not say, and is shown as it was then: agreed. */
export const statuses = ['draft', 'agreed', 'signed'] as const;
export type Status = (typeof statuses)[number];

/** Who signed, by role, and on which day. */
export const Signed = z.strictObject({
  on: isoDate,
  by: z.array(line(limits.name)).check(z.minLength(1), z.maxLength(limits.roles)),
});

/** Something said in the meeting, with the decision it was about. */
const Said = z.strictObject({
  /** a role */
  by: z.optional(line(limits.name)),
  says: line(limits.reason),
  decision: z.optional(localId),
});
export type Said = z.infer<typeof Said>;

/** What the meeting leaves behind besides its criteria. */
export const Minutes = z.strictObject({
  /** roles; more than agreed, perhaps */
  present: z.optional(z.array(line(limits.name)).check(z.maxLength(limits.roles))),
  dissent: z.optional(z.array(Said).check(z.maxLength(limits.minutes))),
  open: z.optional(z.array(Said).check(z.maxLength(limits.minutes))),
  /** ids of two criteria for the same people that are both meant */
  meant: z.optional(z.array(z.array(localId).check(z.length(2))).check(z.maxLength(limits.marks))),
});
export type Minutes = z.infer<typeof Minutes>;

/** The sets that a clinic can name as its default, with the groups that each publishes. */
export const agreedSets: Record<ForcedSet, readonly Group[]> = {
  'gli-2022-global': [],
  'gli-2012': ['caucasian', 'african-american', 'north-east-asian', 'south-east-asian', 'other'],
  'nhanes3-1999': ['caucasian', 'african-american', 'mexican-american'],
  'ecsc-1993': [],
};

/**
 * What a clinic team has agreed on: its criteria, whom to call, how long things take, who agreed and until when. The
 * same schema is the file that is exported and opened, the link, and `content/agreement/clinic.yaml`.
 */
export const Agreement = z.strictObject({
  format: z.literal('tidemark-agreement'),
  version: z.literal(1),
  clinic: line(limits.name),
  jurisdiction: z.optional(line(limits.name)),
  /** counts the agreements of one clinic: 1, then 2 for its first revision */
  revision: z.optional(z.number().check(z.int(), z.minimum(1), z.maximum(limits.revision))),
  status: z.optional(z.enum(statuses)),
  signed: z.optional(Signed),
  /** when it was agreed, and by when it is to be looked at again */
  agreed: isoDate,
  review: isoDate,
  /** roles, never names */
  agreedBy: z.array(line(limits.name)).check(z.minLength(1), z.maxLength(limits.roles)),
  /** what per cent predicted is worked out with, unless a reader chooses another */
  referenceSet: z.optional(z.enum(Object.keys(agreedSets) as ForcedSet[])),
  group: z.optional(z.enum(Object.keys(groupNames) as Group[])),
  /** a saved copy of the handbook that was built longer ago than this says that it is old */
  staleAfterMonths: z.optional(count),
  phones: z
    .array(z.strictObject({ label: line(limits.name), number: z.string().check(z.regex(phoneNumber)) }))
    .check(z.maxLength(limits.phones)),
  /** how long the clinic usually waits for what it orders */
  waits: z
    .array(
      z.strictObject({
        what: line(limits.name),
        weeks: z.number().check(z.minimum(0), z.maximum(limits.waitWeeks)),
      }),
    )
    .check(z.maxLength(limits.waits)),
  /** the published criteria it was agreed on; `digest` is a check value, and has this name since the first version */
  evidence: z.strictObject({ date: isoDate, digest: z.optional(shortCheck) }),
  marks: z.array(AgreedCriterion).check(z.maxLength(limits.marks)),
  minutes: z.optional(Minutes),
});
export type Agreement = z.infer<typeof Agreement>;

export const staleAfterMonths = ({ staleAfterMonths: months }: Pick<Agreement, 'staleAfterMonths'>): number =>
  months ?? 6;

/** Readable on its own: fields in the order of the schema, one a line. */
export const agreementText = (agreement: Agreement): string => `${JSON.stringify(agreement, null, 2)}\n`;
