/** The words by which a typed line asks for a calculation: the schema of `content/calculations.yaml`, whose head explains it. */
import { slug, text, z } from '../domain/schema.ts';
import { isUnit, type UnitCode } from '../quantity.ts';

const unit = z.string().check(z.refine((code) => isUnit(code), 'expected a unit code of calculators/quantity.ts'));
const words = z.array(text);
const byName = <T extends z.ZodMiniType>(value: T) => z.record(z.string(), value);

const NumberWords = z.object({
  units: z._default(z.record(unit, words), {}),
  words: z._default(words, []),
  unit: z.optional(unit),
  range: z.optional(z.tuple([z.number(), z.number()])),
  reading: z.optional(slug),
  label: z.optional(text),
  gives: z.optional(slug),
  givesUnless: z.optional(byName(z.string())),
  lower: z.optional(z.string()),
  anywhere: z.optional(z.enum(['free', 'clause'])),
  optional: z.optional(z.literal(true)),
  means: z.optional(byName(z.number())),
  beside: z.optional(z.object({ words, unless: words, range: z.tuple([z.number(), z.number()]) })),
});

const ChoiceWords = z.object({
  options: z._default(byName(words), {}),
  frames: z.optional(words),
  when: z.optional(byName(z.string())),
  fromUnit: z.optional(z.string()),
  units: z._default(z.record(unit, z.string()), {}),
  always: z.optional(z.string()),
  assumed: z.optional(z.union([text, byName(text)])),
});

export const CalculationWords = z.object({
  title: text,
  words,
  weak: z._default(words, []),
  unless: z._default(words, []),
  unlessRead: z.optional(z.array(slug)),
  follows: z.optional(
    z.object({
      readings: z._default(z.array(slug), []),
      labels: z._default(words, []),
      person: z._default(z.array(z.enum(['sex', 'age', 'height'])), []),
      /** only where one of the readings was typed in one of these units */
      typedIn: z.optional(z.array(unit)),
    }),
  ),
  numbers: z._default(byName(NumberWords), {}),
  choices: z._default(byName(ChoiceWords), {}),
  peek: z.optional(z.literal(true)),
  series: z.optional(byName(z.object({ test: text, unit }))),
  /** by measure: which numbers the first and the last of its values over time are */
  ends: z.optional(byName(z.object({ first: text, last: text }))),
});
export type CalculationWords = z.infer<typeof CalculationWords>;
export type NumberWords = z.infer<typeof NumberWords>;
export type ChoiceWords = z.infer<typeof ChoiceWords>;
/** By the id of the calculator. */
export type Calculations = Record<string, CalculationWords>;

export const unitCode = (code: string): UnitCode | undefined => (isUnit(code) ? code : undefined);
