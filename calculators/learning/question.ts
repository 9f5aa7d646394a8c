import { slug, text, z } from '../domain/schema.ts';

/**
 * A question at the end of a lesson, and why each answer is right or wrong. Criteria and facts are written in the text
 * as `{criterion:id}` and `{fact:id}`; an invented reading is typed as it is.
 */
export const Question = z.object({
  id: slug,
  /** the lesson it belongs to: name of its page in content/handbook/learn */
  lesson: slug,
  asks: text,
  options: z.array(z.object({ text, right: z.optional(z.literal(true)), because: text })).check(
    z.minLength(3, 'expected at least three options'),
    z.refine((options) => options.filter(({ right }) => right).length === 1, 'expected exactly one right option'),
  ),
  /**
   * a calculation whose result one of the texts prints: tests compare the printed figure with the calculator's answer
   */
  sum: z.optional(z.object({ calculator: slug, given: z.record(z.string(), z.unknown()), result: text, shows: text })),
});
export type Question = z.infer<typeof Question>;
