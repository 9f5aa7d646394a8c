/** What the visit sheet asks of whom, as data (content/visit-sheet.yaml): the short visit, what is asked of everybody, lists to choose from. */
import { VisitPart } from './measure.ts';
import { Disease } from './person.ts';
import { slug, text, z } from './schema.ts';
import { supportStatuses } from './visit.ts';

const statuses = z.record(slug, z.array(z.enum(supportStatuses)));
const answers = z.record(slug, z.enum(['present', 'absent']));

/** When a rule of the short visit holds. An age that is not known counts as an adult's; a disease that is not known meets no list. */
const When = {
  diseases: z.optional(z.array(Disease)),
  notDiseases: z.optional(z.array(Disease)),
  minAgeYears: z.optional(z.number()),
  belowAgeYears: z.optional(z.number()),
  /** every one of these supports has one of these statuses; and none of `unlessSupports` has */
  supports: z.optional(statuses),
  unlessSupports: z.optional(statuses),
  /** answers given, or that follow from what was entered */
  signs: z.optional(answers),
  unlessSigns: z.optional(answers),
  /** readings that were typed */
  readings: z.optional(z.array(slug)),
  /** a reading was taken on oxygen */
  onOxygen: z.optional(z.literal(true)),
};

/** Fields asked together, for one reason. `ask` names measures, `support:<decision>`, or `answers`, `wishes`, `remark`. */
export const ShortRule = z.object({
  part: z.enum([...VisitPart.options, 'remark']),
  ask: z._default(z.array(text), []),
  /** signs to tick in one list; a sign that is made of others stands for them */
  tick: z._default(z.array(slug), []),
  because: text,
  ...When,
});
export type ShortRule = z.infer<typeof ShortRule>;

/** One of a few, chosen from a list; no criterion is about it. */
export const SheetChoice = z.object({
  label: text,
  part: z.union([VisitPart, z.literal('person')]),
  help: z.optional(text),
  /** only of someone who has one of these supports in place */
  supports: z.optional(z.array(slug)),
  options: z.record(slug, z.object({ label: text, note: z.optional(text) })),
});
export type SheetChoice = z.infer<typeof SheetChoice>;

export const VisitSheetContent = z.object({
  /** asked whatever the criteria in scope name */
  always: z.array(z.object({ ask: z.array(slug), because: text })),
  choices: z.record(slug, SheetChoice),
  /** why a test was not done, by kind of test; a measure names its kind, and `any` is the end of every list */
  notDone: z.record(slug, z.array(text)),
  short: z.array(ShortRule),
});
export type VisitSheetContent = z.infer<typeof VisitSheetContent>;
