/** What a recorded wish may take out of an act, and what it never may. */
import { describe, expect, test } from 'vitest';
import { actOf } from '../../../calculators/evaluate/act.ts';
import type { Finding } from '../../../calculators/evaluate/evaluate.ts';
import { criteria } from './setup.ts';

const withAct = criteria.filter(({ act }) => act !== undefined).map((criterion) => ({ criterion, id: criterion.id }));
const unwanted = (criterion: (typeof criteria)[number]) =>
  actOf({ criterion, result: 'met' } as Finding, ['no-ventilation']);

describe('no ventilation wanted', () => {
  test.each(withAct)('takes no call out of the act of $id', ({ criterion }) => {
    const called = (criterion.act ?? '').match(/\bcall the [a-z]+ [a-z]+/gi) ?? [];
    for (const call of called) {
      expect(unwanted(criterion).toLowerCase()).toContain(call.toLowerCase());
    }
  });
  // A failed ventilator keeps 'Ventilate by hand': whoever depends on one lives with ventilation, so the wish is in doubt.
  test.each(withAct)('leaves nothing in the act of $id that tells to ventilate', ({ criterion }) => {
    expect(unwanted(criterion)).not.toMatch(
      /(support ventilation|use their ventilator|their ventilator back|starting NIV)/i,
    );
  });
  test.each(withAct.filter(({ criterion }) => /clear the airway/i.test(criterion.act ?? '')))(
    'keeps the airway in the act of $id',
    ({ criterion }) => {
      expect(unwanted(criterion)).toMatch(/clear the airway/i);
    },
  );
  test('keeps the call to the ventilation service, the whole act of some rows', () => {
    expect(withAct.some(({ criterion }) => /^Call the ventilation service/.test(criterion.act ?? ''))).toBe(true);
  });
});
