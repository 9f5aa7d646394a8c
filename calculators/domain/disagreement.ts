import { slug, text, z } from './schema.ts';

/**
 * A question that sources answer differently. The marks are named by id, and every number in `points` stands as
 * `{mark:id}` or `{fact:id}`, so that the page can never drift from the data.
 */
export const Disagreement = z.object({
  title: text,
  question: text,
  /** what to keep in mind when reading the marks side by side */
  points: z.array(text),
  groups: z.array(z.object({ title: text, marks: z.array(slug) })),
  /** handbook page that says what to make of it, as folder/slug */
  page: z.optional(text),
});
export type Disagreement = z.infer<typeof Disagreement>;
