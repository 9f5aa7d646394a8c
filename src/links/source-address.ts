/** Where a source is described: on a page of its own when marks rest on it, else among the sources behind prose. */
import { criteria } from '../evidence/evidence.ts';

const withMarks = new Set(criteria.map((row) => row.source));

export const hasMarks = (source: string): boolean => withMarks.has(source);
export const sourceAddress = (source: string): string =>
  hasMarks(source) ? `/sources/${source}/` : `/sources/behind-prose/#${source}`;
