/** The decisions: urgent first, money last, each with what has to be arranged. */
import { describe, expect, test } from 'vitest';
import { readCriteria, readDecisions } from '../read-content.ts';

const decisions = Object.entries(readDecisions());
const inOrder = [...decisions].sort(([, a], [, b]) => a.order - b.order).map(([id]) => id);

describe('decisions', () => {
  test('urgent help comes first and coverage last', () => {
    expect(inOrder[0]).toBe('urgent-help');
    expect(inOrder.at(-1)).toBe('coverage');
  });
  test('no two share a place', () => {
    expect(new Set(decisions.map(([, { order }]) => order)).size).toBe(decisions.length);
  });
  test('each has something to arrange ahead', () => {
    for (const [id, { arrange }] of decisions) {
      expect({ id, arranged: arrange.length > 0 }).toEqual({ id, arranged: true });
    }
  });
  test('each is a question', () => {
    expect(decisions.filter(([, { question }]) => !question.endsWith('?')).map(([id]) => id)).toEqual([]);
  });
  test('each is weighed by at least one published or practical rule', () => {
    const used = new Set(readCriteria().map(({ support }) => support));
    expect(
      decisions.filter(([, { supports }]) => !supports.some((support) => used.has(support))).map(([id]) => id),
    ).toEqual([]);
  });
  test('a second ventilator is a matter of dependency, not of starting daytime ventilation', () => {
    const rows = readCriteria().filter(({ id }) => /second-(home-)?ventilator/.test(id));
    expect(rows.length).toBe(2);
    expect(rows.map(({ support }) => support)).toEqual(['dependency', 'dependency']);
  });
  test('what is arranged is told, never ordered with a number', () => {
    const numbered = decisions
      .flatMap(([, { arrange }]) => arrange)
      .filter((line) => /\d/.test(line.replace(/CO2/g, '')));
    expect(numbered).toEqual([]);
  });
});
