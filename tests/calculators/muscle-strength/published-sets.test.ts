import { expect, test } from 'vitest';
import { calculators } from '../../../calculators/index.ts';
import { mepLines } from '../../../calculators/muscle-strength/maximal-expiratory-pressure.ts';
import { mipLines } from '../../../calculators/muscle-strength/maximal-inspiratory-pressure.ts';
import { published, type SetId } from '../../../calculators/muscle-strength/published-sets.ts';
import { snipLines } from '../../../calculators/muscle-strength/sniff-pressure.ts';

const used: [string, SetId[]][] = [
  ['maximal-inspiratory-pressure', mipLines.map(({ set }) => set)],
  ['maximal-expiratory-pressure', mepLines.map(({ set }) => set)],
  ['sniff-pressure', snipLines.map(({ set }) => set)],
];

test.each(used)('%s cites every set that it computes with', (id, sets) => {
  const cited = calculators[id]?.citations.map(({ cite }) => cite) ?? [];
  for (const set of sets) expect(cited).toContain(published[set].citation.cite);
});

test('a line from memory is never passed off as read: it stands no better than its set says, unless it was met elsewhere', () => {
  const better = [...mipLines, ...mepLines, ...snipLines].filter(
    ({ set, standing }) => published[set].citation.standing === 'from-memory' && standing !== 'from-memory',
  );
  // Wilson's boys, met in a table of another journal
  expect(better.map(({ set, sex, predicted }) => [set, sex, predicted.text])).toEqual([
    ['wilson-1984-child', 'male', '44.5 + 0.75 * weight'],
  ]);
});

test('no set is for children and adults at once', () => {
  for (const { people, ages, name } of Object.values(published))
    expect([name, people === 'child' ? ages[1] < 18 : ages[0] >= 18]).toEqual([name, true]);
});
