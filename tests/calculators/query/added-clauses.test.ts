/**
 * A line that is understood stays so when a clause about something else is added to it. The corpora's own lines are used; a
 * few have words that bear on the added clause, and as many as stand here may change, never more.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type StructuredLine, structureFaults } from './line-structure.ts';

const lines: StructuredLine[] = ['lines', 'lines-unseen']
  .flatMap((name) => parse(readFileSync(`tests/reference/${name}.yaml`, 'utf8')) as StructuredLine[])
  .filter((entry) => entry.kind === undefined && entry.asks === undefined && entry.class !== 'calculation')
  .filter((entry) => structureFaults(entry).length === 0);

interface Added {
  before?: string;
  after?: string;
  reading?: string;
  absent?: string;
  /** lines that say something about the same already */
  notIn: RegExp;
  most: number;
}

const clauses: Added[] = [
  { after: ', mep 55', reading: 'mep 55 cm[H2O]', notIn: /mep|pe ?max/i, most: 2 },
  { before: 'mep 55, ', reading: 'mep 55 cm[H2O]', notIn: /mep|pe ?max|m\.?i\.?p|pressure/i, most: 5 },
  { after: ', weight 70 kg', reading: 'weight 70 kg', notIn: /weigh|wt|kg|lb|bmi|stone/i, most: 0 },
  { after: ', rr 18', reading: 'respiratory-rate 18 /min', notIn: /rr|resp|breath|rate/i, most: 0 },
  { after: ', no nightmares', absent: 'nightmares', notIn: /night|dream|sleep/i, most: 0 },
  { before: 'no nightmares, ', absent: 'nightmares', notIn: /night|dream|sleep/i, most: 0 },
  { before: 'seen at home today, ', notIn: /today|home|now|was|ago|last/i, most: 0 },
  { after: ', carer present', notIn: /carer present/i, most: 0 },
];

describe('a clause about something else changes nothing', () => {
  test.each(clauses.map((added) => [`${added.before ?? ''}...${added.after ?? ''}`, added] as const))(
    '%s',
    (_, added) => {
      const tried = lines.filter(({ line }) => !added.notIn.test(line));
      const wrong = tried.filter(
        (entry) =>
          structureFaults({
            ...entry,
            line: `${added.before ?? ''}${entry.line}${added.after ?? ''}`,
            readings: [...(entry.readings ?? []), ...(added.reading ? [added.reading] : [])],
            absent: [...(entry.absent ?? []), ...(added.absent ? [added.absent] : [])],
          }).length > 0,
      );
      expect(tried.length).toBeGreaterThan(300);
      expect(wrong.length, wrong.map(({ line }) => line).join('\n')).toBeLessThanOrEqual(added.most);
    },
  );
});
