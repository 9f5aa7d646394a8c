import { standings } from '../standing.ts';
import { Unit } from './measure.ts';
import { isoDate, slug, text, z } from './schema.ts';

/** A number that prose uses and no criterion holds: a session length, an interval, a study's figure. */
export const Fact = z.object({
  /** what the number is, as a sentence without the number */
  says: text,
  /** one number, or the two ends of a span, or words where the source gives no number ("weeks to months") */
  value: z.union([z.number(), z.tuple([z.number(), z.number()]), text]),
  unit: z.optional(Unit),
  /** words after the number and its unit: 'a night', 'in eight people' */
  after: z.optional(text),
  source: z.optional(slug),
  locator: text,
  standing: z.enum(standings),
  checked: z.optional(isoDate),
});
export type Fact = z.infer<typeof Fact>;
