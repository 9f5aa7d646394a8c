import { slug, text, z } from '../domain/schema.ts';
import { standings } from '../standing.ts';

/** What a question of the mixed check asks about: a drawing, a curve in which something is wrong, a number, or words. */
export const questionKinds = ['words', 'picture', 'curve', 'number'] as const;
export type QuestionKind = (typeof questionKinds)[number];

/**
 * A question at the end of a lesson, and why each answer is right or wrong. Criteria and facts are written in the text
 * as `{criterion:id}` and `{fact:id}`; an invented reading is typed as it is.
 */
export const Question = z
  .object({
    id: slug,
    /** the lesson it belongs to: name of its page in content/handbook/learn */
    lesson: slug,
    /** whether it is asked at the end of that lesson, or in the mixed check after all of them */
    in: z._default(z.enum(['lesson', 'check']), 'lesson'),
    kind: z._default(z.enum(questionKinds), 'words'),
    /** the drawing it asks about: its name in src/figures */
    figure: z.optional(slug),
    asks: text,
    options: z.array(z.object({ text, right: z.optional(z.literal(true)), because: text })).check(
      z.minLength(3, 'expected at least three options'),
      z.refine((options) => options.filter(({ right }) => right).length === 1, 'expected exactly one right option'),
    ),
    /** what the right answer rests on, and how well that is known */
    source: z.object({ id: slug, at: z.optional(text), is: z.enum(standings) }),
    /**
     * a calculation whose result one of the texts prints: tests compare the printed figure with the calculator's answer
     */
    sum: z.optional(
      z.object({ calculator: slug, given: z.record(z.string(), z.unknown()), result: text, shows: text }),
    ),
  })
  .check(
    z.refine(
      ({ kind, figure }) => (kind === 'picture' || kind === 'curve') === (figure !== undefined),
      'a picture or a curve names its figure, and nothing else does',
    ),
    z.refine(({ kind, sum }) => kind !== 'number' || sum !== undefined, 'a number to work out names its calculation'),
  );
export type Question = z.infer<typeof Question>;
