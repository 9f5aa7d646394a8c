import { supports } from './criterion.ts';
import { Disease } from './person.ts';
import { slug, text, z } from './schema.ts';

/** What is being weighed. Every `support` of the criteria belongs to one decision. */
export const Decision = z.object({
  title: text,
  /** the question as asked at work */
  question: text,
  /** place in a list; urgent first */
  order: z.number(),
  supports: z.array(z.enum(supports)),
  /** by support: what its criteria are for, in two to four words ('start night NIV') */
  purposes: z.partialRecord(z.enum(supports), text),
  /** supports of other decisions whose criteria open this question: a referral comes before night ventilation */
  openedBy: z._default(z.array(z.enum(supports)), []),
  /** ids of criteria that belong to another decision and bear on this one as well: NIV in an emergency, oxygen beside it */
  bearing: z._default(z.array(slug), []),
  /** never shown among clinical need */
  coverage: z.optional(z.literal(true)),
  /** the support whose status turns 'start' into 'review'; what the reader is asked */
  status: z.optional(z.object({ label: text })),
  /** for a support in place: what would show that it is no longer enough, and the signs among it */
  notEnough: z.optional(z.object({ words: text, signs: z._default(z.array(slug), []) })),
  /**
   * what the published criteria decide here and what they leave open; numbers are written as `{criterion:id}` or `{fact:id}`
   */
  answer: z.optional(text),
  /**
   * by disease, where its criteria or common practice differ: this project's judgement, its standing in brackets at the
   * end
   */
  judgement: z._default(z.partialRecord(Disease, text), {}),
  /** what usually has to be arranged, ahead of need */
  arrange: z._default(z.array(text), []),
});
export type Decision = z.infer<typeof Decision>;
export type Decisions = Record<string, Decision>;
