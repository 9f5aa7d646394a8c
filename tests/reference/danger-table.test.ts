/** Every situation of the danger table, against the evaluator and both notes. The browser tests ask the sheet and search the same. */
import { describe, expect, test } from 'vitest';
import { faultsOf, readDangers, shownFor } from './danger.ts';

describe('danger table', () => {
  test.each(readDangers('danger-table').map((danger) => [`${danger.id} ${danger.situation}`, danger] as const))(
    '%s',
    (_, danger) => {
      expect(faultsOf(danger, shownFor(danger))).toEqual([]);
    },
  );
});
