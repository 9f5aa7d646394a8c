/** Comparators that hold a reading against a mark. */
export const comparators = ['<', '<=', '>', '>=', 'present', 'absent'] as const;
/** Rows that inform and are never evaluated: a schedule, a range to aim for, a background number. */
export const silentComparators = ['info', 'at', 'consider', 'range'] as const;

const silent: readonly string[] = silentComparators;
/** Whether a row can be met at all. */
export const isEvaluated = ({ comparator }: { comparator: string }): boolean => !silent.includes(comparator);
