import { isUnit, type UnitCode } from '../quantity.ts';
import { standings } from '../standing.ts';
import { nearestUnits } from './nearest-unit.ts';
import { Disease, Sex } from './person.ts';
import { slug, text, z } from './schema.ts';
import { visitParts } from './visit-parts.ts';

const unknownUnit = (typed: unknown): string =>
  `expected a unit code (nearest: ${nearestUnits(String(typed)).join(', ')}); a new unit is a line of \`units\` in calculators/quantity.ts`;

export const Unit = z
  .string()
  .check(z.refine(isUnit, { error: ({ input }) => unknownUnit(input) })) as unknown as z.ZodMiniType<
  UnitCode,
  UnitCode
>;

const range = z.tuple([z.number(), z.number()]);

export const VisitPart = z.enum(visitParts);
export type VisitPart = z.infer<typeof VisitPart>;

/** How a number is known, beside the number. */
const known = { source: slug, locator: text, standing: z.enum(standings) };

/** A reading that answers a question by itself, so that nobody has to tap what was typed. */
export const ImpliedBy = z.object({
  measure: slug,
  comparator: z.enum(['<', '<=', '>', '>=']),
  value: z.number(),
  unit: Unit,
  answer: z._default(z.enum(['present', 'absent']), 'present'),
  /** the answer is the healthy one: a flagged test does not give it */
  clears: z.optional(z.literal(true)),
  /** only from and below these ages, and for this sex; with the age unknown 'present' counts and 'absent' does not */
  minAgeYears: z.optional(z.number()),
  belowAgeYears: z.optional(z.number()),
  sex: z.optional(Sex),
  /** only when the reading was taken by one of these methods */
  methods: z.optional(z.array(text)),
  ...known,
});
export type ImpliedBy = z.infer<typeof ImpliedBy>;

/**
 * A reading outside it is abnormal for a resting adult or child of this age; the note says so where no criterion
 * applies.
 */
export const Usual = z.object({
  low: z.optional(z.number()),
  high: z.optional(z.number()),
  unit: Unit,
  minAgeYears: z.optional(z.number()),
  belowAgeYears: z.optional(z.number()),
  sex: z.optional(Sex),
  ...known,
});
export type Usual = z.infer<typeof Usual>;

/** What answers a question without asking it. Everything that a row names must hold. */
export const SettledBy = z.object({
  minAgeYears: z.optional(z.number()),
  /** another question, answered so */
  sign: z.optional(slug),
  is: z.optional(z.enum(['present', 'absent'])),
  answer: z.enum(['present', 'absent']),
  because: text,
});
export type SettledBy = z.infer<typeof SettledBy>;

const common = {
  /** as a heading or a field label */
  label: text,
  /** inside a sentence: 'FVC', 'SNIP', 'orthopnoea' */
  short: text,
  /** what the person and family call it, in the plain version: 'oxygen level' */
  plain: z.optional(text),
  part: VisitPart,
  /** words it is looked up by, beside its label */
  synonyms: z._default(z.array(text), []),
  /** address of its handbook page, from the site's root, once there is one */
  page: z.optional(text),
  /** how to take or ask it, one or two sentences */
  how: z.optional(text),
  /** LOINC code, only where it was read at a source (shared standards note) */
  loinc: z.optional(z.object({ code: z.string(), display: text, read: text })),
};

/** Something counted or measured, with a unit. */
export const NumberMeasure = z.object({
  ...common,
  kind: z.literal('number'),
  unit: Unit,
  accepts: z._default(z.array(Unit), []),
  /** its name where a value with its unit follows: 'VC', not 'VC in litres 1.2 L' */
  named: z.optional(text),
  /** printed after the unit: 'predicted', 'of the upright value' */
  of: z.optional(text),
  plausible: range,
  hard: range,
  decimals: z._default(z.number(), 0),
  /** compare the absolute value: a pressure is typed as -35 by one clinic and 35 by the next */
  magnitude: z.optional(z.literal(true)),
  /** only a reading on room air says anything about this measure's criteria */
  roomAir: z.optional(z.literal(true)),
  /** methods that a reading may be taken by; one by another method leaves the result 'cannot tell' */
  methods: z.optional(z.array(text)),
  /** ways a test of it goes wrong that the reader can flag, and which way each errs */
  flags: z._default(z.array(z.object({ id: slug, label: text, reads: z.enum(['low', 'high', 'either']) })), []),
  /** posture that its criteria are about, and the others a reader can record */
  posture: z.optional(z.enum(['upright', 'supine', 'any'])),
  /** criteria on it are hidden for anyone younger */
  minAgeYears: z.optional(z.number()),
  /** criteria on it are hidden in these diseases, with the reason */
  notFor: z.optional(z.object({ diseases: z.array(Disease), because: text })),
  /** the range that is not remarkable, where a source gives one */
  usual: z._default(z.array(Usual), []),
  /** signs in which this test is never suggested as the next one, with the reason */
  notWhen: z._default(z.array(z.object({ sign: slug, because: text })), []),
  /** the kind of test, for the reasons why it was not done (content/visit-sheet.yaml) */
  notDone: z.optional(slug),
  /** typed on the visit sheet alone: no criterion is about it, and search does not read it */
  sheetOnly: z.optional(z.literal(true)),
  /** how it was given or taken, chosen beside the number; kept as the reading's method */
  ways: z.optional(z.object({ label: text, options: z.array(text) })),
  /** taken from other measures when it was not entered itself */
  readFrom: z.optional(z.object({ rule: z.enum(['greatest', 'first']), measures: z.array(slug) })),
});
export type NumberMeasure = z.infer<typeof NumberMeasure>;

/** Something that is there or not. `items` is the source's own list, so that it can be asked item by item. */
export const SignMeasure = z.object({
  ...common,
  kind: z.literal('sign'),
  question: text,
  /** the answer that is abnormal; `neither` for a fact that is neither well nor ill, as 'already on NIV' */
  abnormal: z.enum(['yes', 'no', 'neither']),
  /** the two answers as clauses: 'lung disease is known', 'no lung disease is known'; needed where a criterion asks for it beside its number */
  when: z.optional(z.object({ present: text, absent: text })),
  /** readings that answer it by themselves */
  impliedBy: z._default(z.array(ImpliedBy), []),
  /** the age or another answer settles it */
  settledBy: z._default(z.array(SettledBy), []),
  /** supports, by decision: once all were asked about and none is in place, the question makes no sense and is not asked */
  needs: z.optional(z.array(slug)),
  /** not asked of anyone younger */
  fromAgeYears: z.optional(z.number()),
  items: z._default(z.array(z.object({ id: slug, label: text })), []),
  /** present as soon as one of these signs is; absent only when all are */
  anyOf: z.optional(z.array(slug)),
  /** present only when all of these are */
  allOf: z.optional(z.array(slug)),
});
export type SignMeasure = z.infer<typeof SignMeasure>;

/** Not a reading: a schedule or a moment that criteria mention. Never entered, never evaluated. */
const ScheduleMeasure = z.object({ ...common, kind: z.literal('schedule'), unit: z.optional(Unit) });

export const Measure = z.discriminatedUnion('kind', [NumberMeasure, SignMeasure, ScheduleMeasure]);
export type Measure = z.infer<typeof Measure>;
export type Measures = Record<string, Measure>;
