/**
 * How well a number is known. Kept apart from the number itself on every page: memory is never passed off as checked.
 *
 * - checked: someone on this project read it at its source (the text, its abstract, or its own data)
 * - checked-in-summary: read in someone else's named summary of the source
 * - common-practice: what respiratory therapists usually do; it rests on no published number
 * - from-memory: recalled, unchecked; a person must open the source before relying on it
 */
export const standings = ['checked', 'checked-in-summary', 'common-practice', 'from-memory'] as const;
export type Standing = (typeof standings)[number];

export const standingWords: Record<Standing, string> = {
  checked: 'read at source',
  'checked-in-summary': 'read in a summary',
  'common-practice': 'common practice',
  'from-memory': 'not yet checked',
};

/**
 * The words after the name of a source. A source that is itself called 'Common practice' needs them only once. What was not
 * checked is the number, by us: after a source alone, 'not yet checked' could be about the person or the source.
 */
export const standingAfter = (source: string | undefined, standing: Standing): string =>
  source?.toLowerCase() === standingWords[standing]
    ? ''
    : standing === 'from-memory'
      ? '; we have not yet checked this criterion in the original'
      : `, ${standingWords[standing]}`;
