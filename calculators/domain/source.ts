import { isoDate, text, z } from './schema.ts';

/** A guideline, paper, policy or convention that criteria and facts rest on. */
export const Source = z.object({
  /** a short name, for a criterion's label */
  short: text,
  title: text,
  authors: z.optional(text),
  body: text,
  year: z.optional(z.number()),
  pages: z.optional(text),
  doi: z.optional(text),
  pmid: z.optional(text),
  jurisdiction: text,
  /** guideline, study, policy, statement, teaching or practice */
  kind: z.enum(['guideline', 'study', 'policy', 'statement', 'teaching', 'practice']),
  openAccess: z.optional(text),
  lastKnownRevision: z.optional(text),
  /** what replaces it, where something does */
  supersededBy: z.optional(text),
  /** what was read of it, in words, and which parts of the citation were not checked */
  read: text,
  checked: z.optional(isoDate),
  note: z.optional(text),
});
export type Source = z.infer<typeof Source>;
