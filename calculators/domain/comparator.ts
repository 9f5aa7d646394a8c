/** Comparators that compare a reading with a threshold. */
export const comparators = ['<', '<=', '>', '>=', 'present', 'absent'] as const;
/** @param order  negative when the reading is below the threshold, zero at it, positive above */
export function meets(order: number, comparator: (typeof comparators)[number]): boolean {
  switch (comparator) {
    case '<':
      return order < 0;
    case '<=':
      return order <= 0;
    case '>':
      return order > 0;
    case '>=':
      return order >= 0;
    default:
      return false;
  }
}

/** Rows that inform and are never evaluated: a schedule, a range to aim for, a background number. */
export const silentComparators = ['info', 'at', 'consider', 'range'] as const;

const silent: readonly string[] = silentComparators;
/** Whether a row can be met at all. */
export const isEvaluated = ({ comparator }: { comparator: string }): boolean => !silent.includes(comparator);
