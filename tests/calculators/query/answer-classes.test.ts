/** What a line is answered with, for classes of lines that a fresh reader found answered wrongly. */
import { describe, expect, test } from 'vitest';
import type { Person } from '../../../calculators/domain/person.ts';
import { percentBy } from '../../../calculators/evaluate/derive.ts';
import { answerTo, sameAs } from '../../../calculators/query/answer.ts';
import { visitOfReading } from '../../../calculators/query/read-line.ts';
import { readDecisions, readEvidence } from '../../read-content.ts';
import { readWhole } from './line-structure.ts';

const evidence = readEvidence();
const decisions = readDecisions();
const answer = (line: string, inHand: Person = {}) => {
  const query = readWhole(line);
  const asked = query?.kind === 'reading' ? visitOfReading(query) : query;
  if (asked?.kind !== 'visit') throw new Error(`"${line}" is ${asked?.kind}`);
  return answerTo(asked, inHand, evidence, decisions, percentBy({ set: 'gli-2022-global' }));
};
const shown = ({ emergency, sameDay, soon, met, urgentIf }: ReturnType<typeof answer>) => [
  ...[...emergency, ...sameDay].flatMap(({ findings }) => findings),
  ...[...soon, ...met].flatMap(({ findings }) => findings),
  ...urgentIf,
];

describe('a healthy reading of someone without a named disease meets nothing', () => {
  test.each(['fvc 85', 'fvc 100', 'svc 88', 'snip 90', 'mip 100', 'pcf 420', 'mep 120', 'spo2 97 on air', 'co2 40'])(
    '%s',
    (line) => {
      const { readings } = answer(line).visit;
      const [typed] = Object.keys(readings);
      // Nothing that compares this very reading may be among what is shown as met.
      const wrong = shown(answer(line)).filter(({ parts }) =>
        parts.some(
          ({ role, truth, measure }) =>
            role === 'main' && truth !== 'met' && (measure === typed || measure in readings),
        ),
      );
      expect(wrong.map(({ criterion }) => criterion.id)).toEqual([]);
    },
  );

  test('whatever is shown as met has its main comparison met, or the alternative that stands for it', () => {
    for (const line of [
      'fvc 85% headaches every morning',
      'snip 90 headaches every morning',
      'fvc 62 sleepy',
      'pcf 300 mep 90',
    ])
      for (const { criterion, parts } of shown(answer(line)))
        expect([
          line,
          criterion.id,
          parts.some(({ role, truth }) => (role === 'main' || role === 'alternative') && truth === 'met'),
        ]).toEqual([line, criterion.id, true]);
  });
});

describe('the person in hand', () => {
  const boy: Person = { disease: 'dmd', sex: 'male', ageYears: 13 };
  test.each(['als fvc 40 weak cough', 'spo2 91 woman 70', 'sats 91 woman', 'fvc 50 sma'])(
    'lends nothing to a line about someone else: %s',
    (line) => {
      const { visit, assumed } = answer(line, boy);
      expect(assumed.inHand).toEqual([]);
      expect([visit.ageYears === 13, visit.disease === 'dmd']).toEqual([false, false]);
    },
  );

  test('completes a line that names nobody, and says so', () => {
    const { visit, assumed } = answer('fvc 44', boy);
    expect(visit.disease).toBe('dmd');
    expect(assumed.inHand).toEqual(['disease', 'sex', 'ageYears']);
  });

  test('an adult in hand is not the child of the line', () => {
    expect(sameAs({ child: true }, { ageYears: 60 })).toBe(false);
    expect(sameAs({ child: true }, { ageYears: 9 })).toBe(true);
    expect(sameAs({ ageYears: 60 }, { ageYears: 60, disease: 'als' })).toBe(true);
  });
});

test('a caution is never headed as a reason for what it speaks against', () => {
  const purposes = answer('sats 92 copd and als').met.filter(({ findings }) =>
    findings.some(({ criterion }) => criterion.use === 'caution'),
  );
  expect(purposes.length).toBeGreaterThan(0);
  for (const { purpose } of purposes) expect(purpose).toMatch(/^caution about /);
});
