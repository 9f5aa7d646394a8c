import { slug, text, z } from '../domain/schema.ts';

/** A term of the trade, in a sentence that a student understands. */
export const Term = z.object({
  term: text,
  /** how it is written short, if it is */
  short: z.optional(text),
  /** how it is said, where that is not plain: 'snip', 'em-eye-ee' */
  said: z.optional(text),
  unit: z.optional(text),
  meaning: text,
  measure: z.optional(slug),
});
export type Term = z.infer<typeof Term>;
