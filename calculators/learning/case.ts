import { Unit } from '../domain/measure.ts';
import { Disease, Sex } from '../domain/person.ts';
import { slug, text, z } from '../domain/schema.ts';
import { supportStatuses, wishList } from '../domain/visit.ts';
import { standings } from '../standing.ts';

/** What a case gives practice in. */
export const themes = [
  'adult',
  'child',
  'slow',
  'fast',
  'bulbar',
  'missing data',
  'on the line',
  'acute',
  'oxygen',
  'payer',
  'equipment',
  'wishes',
] as const;

const results = z._default(z.array(slug), []);

/**
 * An invented person at one visit. The student says which of the criteria named in `ask` are met, not met or 'cannot
 * tell', and thinks about what to arrange; the evaluator's findings are then computed from the same readings.
 *
 * `expected` is the author's own reading of the sources, written before the evaluator was run; a test compares the two
 * together. What was not measured is simply not listed. What could be arranged is explained and never scored: a case has
 * no treatment that is right or wrong.
 */
export const Case = z
  .object({
    title: text,
    order: z.number(),
    themes: z.array(z.enum(themes)).check(z.minLength(1)),
    story: text,
    person: z.object({
      disease: z.optional(Disease),
      ageYears: z.optional(z.number()),
      sex: z.optional(Sex),
      heightCm: z.optional(z.number()),
    }),
    readings: z._default(
      z.record(
        slug,
        z.object({
          value: z.number(),
          unit: Unit,
          flags: z.optional(z.array(slug)),
          posture: z.optional(z.enum(['upright', 'supine'])),
          gas: z.optional(z.enum(['air', 'oxygen', 'ventilation'])),
          method: z.optional(text),
        }),
      ),
      {},
    ),
    signs: z._default(z.record(slug, z.enum(['present', 'absent'])), {}),
    notDone: z._default(z.record(slug, text), {}),
    supports: z._default(z.record(slug, z.enum(supportStatuses)), {}),
    wishes: z._default(z.array(z.enum(wishList)), []),
    /** ids of the criteria to predict */
    ask: z.array(slug).check(z.minLength(4), z.maxLength(8)),
    expected: z.object({ met: results, 'not-met': results, 'cannot-tell': results }),
    arrange: z
      .array(z.object({ text, because: text, is: z._default(z.enum(standings), 'common-practice') }))
      .check(z.minLength(3)),
    explanation: z.array(text).check(z.minLength(1)),
  })
  .check(
    z.refine(({ ask, expected }) => {
      const predicted = [...expected.met, ...expected['not-met'], ...expected['cannot-tell']];
      return predicted.length === ask.length && ask.every((id) => predicted.includes(id));
    }, 'expected: every criterion asked about is in exactly one of met, not-met and cannot-tell'),
  );
export type Case = z.infer<typeof Case>;
