/**
 * What a row carries that a clinic set beside the published ones. The evaluator takes such a row as any other; only the
 * words around it need these facts. What an agreement is, and how a row comes out of it, is the agreement room's alone.
 */

/**
 * How a clinic's criterion departs from what is published; printed wherever the criterion is.
 *
 * - `less-cautious`: met by fewer readings than every published number beside it
 * - `more-cautious`: beyond the span of the published numbers on the other side, met by more readings than any
 * - `outside`: beyond the span of the published numbers, where it is not known which side is the careful one
 * - `alone`: no published number on this side of this measure for this decision
 * - `replaced`: adopts a published criterion whose source has been replaced by a newer edition
 * - `other-conditions`: names a published criterion, and has other conditions than that one
 */
export type Departure = 'less-cautious' | 'more-cautious' | 'outside' | 'alone' | 'replaced' | 'other-conditions';

/** That someone in the clinic has read the source of the number. */
interface ReadByClinic {
  role: string;
  date: string;
  locator: string;
}

/** Who set a row that is no published one, when and why. Never in content/criteria. */
export interface LocalRow {
  clinic: string;
  agreed: string;
  /** set in an agreement that is still a draft */
  draft?: true;
  departs: Departure | undefined;
  reason: string | undefined;
  read: ReadByClinic | undefined;
}
