/** The decisions: urgent first, money last, each with what has to be arranged. */
import { describe, expect, test } from 'vitest';
import type { Disease } from '../../calculators/domain/person.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { partsOf, readCriteria, readDecisions, readEvidence, readFacts, typedNumber } from '../read-content.ts';

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

describe('what the criteria decide and how it is judged', () => {
  const evidence = readEvidence();
  const { criteria } = evidence;
  const facts = readFacts();
  const judged = decisions.flatMap(([id, { judgement }]) =>
    Object.entries(judgement).map(([disease, sentence]) => ({ id, disease: disease as Disease, sentence })),
  );
  const sentences = [
    ...decisions.map(([id, { answer = '' }]) => ({ id, sentence: answer })),
    ...judged.map(({ id, disease, sentence }) => ({ id: `${id}, ${disease}`, sentence })),
  ];

  test('every decision says what its criteria decide, in one to five short sentences', () => {
    const sentences = (words: string) => words.match(/[.?!](\s|$)/g)?.length ?? 0;
    const wrong = decisions.filter(
      ([, { answer = '' }]) => sentences(answer) < 1 || sentences(answer) > 5 || answer.split(/\s+/).length > 75,
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('every number in them comes from a threshold with a number or a fact, and none is typed', () => {
    const wrong = sentences.flatMap(({ id, sentence }) => {
      const { marks, facts: named, plain } = partsOf(sentence);
      // the bracket that says how it was checked may name a source with its year
      const words = plain.replace(
        /\([^()]*\b(read at source|read in a summary|common practice|not yet checked)\b[^()]*\)/g,
        '',
      );
      return [
        ...marks.filter((named) => criteria.find((row) => row.id === named)?.value === undefined),
        ...named.filter((fact) => !Object.hasOwn(facts, fact)),
        ...(typedNumber(words) || /[{}]/.test(words) ? [words] : []),
      ].map((found) => `${id}: ${found}`);
    });
    expect(wrong).toEqual([]);
  });
  test('a judgement ends with how it was checked', () => {
    const open = judged.filter(
      ({ sentence }) =>
        !/\([^()]*\b(read at source|read in a summary|common practice|not yet checked)\b[^()]*\)\.$/.test(sentence),
    );
    expect(open.map(({ id, disease }) => `${id}, ${disease}`)).toEqual([]);
  });
  test('a judgement is given only where the page of that disease has criteria to show', () => {
    const bare = judged.filter(({ id, disease }) => criteriaFor({ disease }, evidence, { decision: id }).length === 0);
    expect(bare.map(({ id, disease }) => `${id}, ${disease}`)).toEqual([]);
  });
});
