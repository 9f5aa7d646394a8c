import { slug, text, z } from './schema.ts';

/**
 * A question that sources answer differently. The criteria are named by id, and every number in `points` is written as
 * `{criterion:id}` or `{fact:id}`, so that the page always prints the data's own numbers.
 */
export const Disagreement = z.object({
  title: text,
  question: text,
  /** what to keep in mind when reading the criteria side by side */
  points: z.array(text),
  groups: z.array(z.object({ title: text, marks: z.array(slug) })),
  /** handbook page that says what to make of it, as folder/slug */
  page: z.optional(text),
});
export type Disagreement = z.infer<typeof Disagreement>;
