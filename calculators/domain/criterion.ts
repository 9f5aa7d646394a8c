import { standings } from '../standing.ts';
import { comparators, silentComparators } from './comparator.ts';
import type { LocalRow } from './local-row.ts';
import { Unit } from './measure.ts';
import { Disease, Sex } from './person.ts';
import { isoDate, slug, text, z } from './schema.ts';

export { comparators, isEvaluated, silentComparators } from './comparator.ts';

export const supports = [
  'assessment-frequency',
  'referral',
  'bilevel-niv-start',
  'niv-daytime-extension',
  'mouthpiece-ventilation',
  'dependency',
  'lung-volume-recruitment',
  'airway-clearance-manual',
  'mi-e-start',
  'oral-suction',
  'oxygen-caution',
  'nutrition-gastrostomy-timing',
  'invasive-discussion',
  'breathlessness-comfort',
  'procedure-preparation',
  'travel',
  'urgent-same-day',
  'emergency',
  'coverage-us',
] as const;

export const urgencies = ['emergency', 'same-day', 'within-1-week', 'routine'] as const;

/** One comparison inside a criterion. */
export const Condition = z.object({
  measure: slug,
  comparator: z.enum(comparators),
  value: z.optional(z.number()),
  unit: z.optional(Unit),
  /** this part is for older people only, as litres are: below it the part does not count */
  minAgeYears: z.optional(z.number()),
  /** a limit such as 'unless the plan says otherwise': while nobody has answered, the part counts as met */
  unanswered: z.optional(z.literal('met')),
  /** what the source says about this part */
  note: z.optional(text),
});
export type Condition = z.infer<typeof Condition>;

/** At least one of these signs. */
const AnyOf = z.object({ anyOf: z.array(slug) });

export const Requirement = z.union([AnyOf, Condition]);
export type Requirement = z.infer<typeof Requirement>;

/**
 * One published rule about a measure.
 *
 * The rule is: (main condition OR `alternative`) AND everything in `alsoRequires`.
 */
export const Criterion = z.object({
  id: slug,
  support: z.enum(supports),
  /** `any`: any chronic neuromuscular disease, and never the row of a disease named elsewhere */
  disease: z.union([Disease, z.literal('any')]),
  population: z.enum(['adult', 'child', 'any']),
  measure: slug,
  comparator: z.enum([...comparators, ...silentComparators]),
  value: z.optional(z.union([z.number(), z.tuple([z.number(), z.number()]), text])),
  unit: z.optional(Unit),
  /** what a reading that equals the value does */
  atThreshold: z.optional(z.enum(['met', 'not-met', 'cannot-tell'])),
  /** the posture that the source names; a reading in another leaves the result 'cannot tell' */
  posture: z.optional(z.enum(['upright', 'supine'])),
  /** evaluated whatever gas the reading was taken on: it can alarm, it never reassures */
  anyGas: z.optional(z.literal(true)),
  alsoRequires: z._default(z.array(Requirement), []),
  alternative: z.optional(Condition),
  sex: z.optional(Sex),
  minAgeYears: z.optional(z.number()),
  maxAgeYears: z.optional(z.number()),
  /** diseases that an `any` row must not be shown in, with the reason */
  notFor: z.optional(z.object({ diseases: z.array(Disease), because: text })),
  /** counts where its reading was taken, and is neither asked for nor listed as missing where it was not */
  onlyIfRead: z.optional(z.literal(true)),
  /** holds in acute illness only; shown in a group of its own */
  acute: z.optional(z.literal(true)),
  urgency: z.enum(urgencies),
  /**
   * decision: a guideline or policy start or refer criterion. evidence: a study or scoring cut-off, background.
   * caution: qualifies or blocks another. schedule: how often to look. setting: a device limit. coverage: a payer's rule.
   */
  use: z.enum(['decision', 'evidence', 'caution', 'schedule', 'setting', 'coverage']),
  /** when and how the source means it, in whole sentences without the last full stop */
  context: text,
  /** what the source says to do, in this project's words */
  action: text,
  /** a schedule to keep or a limit to stay within: it asks for attention when it is not met */
  attentionWhen: z.optional(z.literal('not-met')),
  /** emergency and same-day rows: what is asked for first, as the headline of the finding; an imperative of at most 12 words */
  act: z.optional(text),
  /** emergency and same-day rows: the page that says what to do, from the site's root */
  urgentPage: z.optional(text),
  strength: text,
  source: slug,
  locator: text,
  /** 'current', or what replaced it */
  status: z.union([z.literal('current'), z.object({ supersededBy: text })]),
  standing: z.enum(standings),
  /** what was read, in whole sentences without the last full stop */
  read: text,
  checked: z.optional(isoDate),
  /** for a number from memory: what would settle it */
  settle: z.optional(text),
});
/** `local`: set by a clinic's agreement and not published; never in content/criteria, the schema drops it. */
export type Criterion = z.infer<typeof Criterion> & { local?: LocalRow | undefined };
