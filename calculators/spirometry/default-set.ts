import type { ForcedSet } from './reference-sets.ts';

/**
 * The set that is used where nobody has chosen one. It publishes no groups, so it needs none. Apart from the sets
 * themselves, so that a form that only names it does not load their curves.
 */
export const defaultSet = 'gli-2022-global' satisfies ForcedSet;
