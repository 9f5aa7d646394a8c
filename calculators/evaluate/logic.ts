/** Three results, never two: what is not known is not false. */
export type Truth = 'met' | 'not-met' | 'cannot-tell';

/** Met only when all are; one that is known false settles it, whatever is unknown. */
export function all(parts: readonly Truth[]): Truth {
  if (parts.includes('not-met')) return 'not-met';
  return parts.includes('cannot-tell') ? 'cannot-tell' : 'met';
}

/** Met as soon as one is; false only when every one is known false. */
export function any(parts: readonly Truth[]): Truth {
  if (parts.includes('met')) return 'met';
  return parts.includes('cannot-tell') ? 'cannot-tell' : 'not-met';
}
