import { expect, test } from 'vitest';
import rapidShallowIndex from '../../../calculators/blood-gas/rapid-shallow-index.ts';
import { ask } from '../ask.ts';

const { answer, value } = ask(rapidShallowIndex);

test('30 breaths of 300 mL are 100 a minute for each litre (by hand)', () => {
  expect(value({ rate: 30, breath: 300 }, 'index')).toBeCloseTo(100, 9);
  expect(value({ rate: 30, breath: { value: 0.3, unit: 'L' } }, 'index')).toBeCloseTo(100, 9);
});

test('it names itself a weaning number first, and shows no threshold', () => {
  expect(rapidShallowIndex.before).toEqual([
    'The rapid shallow breathing index is a weaning index from intensive care. The index is not a criterion for starting or stopping support at home.',
  ]);
  const { cautions, tables } = answer({ rate: 30, breath: 300 });
  expect(tables).toEqual([]);
  expect(cautions.join(' ')).not.toMatch(/105/);
});
