/**
 * Where a source is described: on a page of its own when criteria come from it, else among the sources behind prose.
 */
import { criteria } from '../evidence/evidence.ts';

const withCriteria = new Set(criteria.map((row) => row.source));

export const hasCriteria = (source: string): boolean => withCriteria.has(source);
export const sourceAddress = (source: string): string =>
  hasCriteria(source) ? `/sources/${source}/` : `/sources/behind-prose/#${source}`;
