/** The decisions: urgent first, money last, each with what has to be arranged. */
import { describe, expect, test } from 'vitest';
import { isAcute } from '../../calculators/domain/diseases.ts';
import type { Disease } from '../../calculators/domain/person.ts';
import { bearing, opening } from '../../calculators/evaluate/bearing.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { categoryOf } from '../../calculators/evaluate/group.ts';
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

describe('a decision page names every threshold that bears on it', () => {
  const evidence = readEvidence();
  const all = readDecisions();
  /** What the action of a criterion says where it bears on a decision. */
  const speaksOf: Readonly<Record<string, RegExp>> = {
    'night-ventilation': /\bNIV\b|ventilation service/,
    'cough-help': /assisted cough|weak cough/,
    'lung-volume-recruitment': /breath stacking|recruitment/,
    'daytime-ventilation': /\b(daytime support|mouthpiece ventilation)/,
    'invasive-ventilation': /\b(tracheostomy|intubat)/,
    'oral-suction': /\bsuction\b/,
    'oxygen-with-care': /\b(any oxygen is controlled|long-term oxygen|oxygen alone|give oxygen)/i,
    dependency: /second ventilator|back-up ventilator/,
    'feeding-tube-timing': /gastrostomy|feeding tube/,
    procedures: /before the procedure|anaesthe/,
    travel: /\b(flight|fly|travel)/,
  };
  /** Criteria that speak of a decision and set nothing for it. */
  const aside: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    'night-ventilation': {
      'bach2008-sma-infection-spo2-lt-94': 'NIV goes on during an infection; it does not start at night',
      'btsics-nmd-do-not-delay-intubation': 'about what follows when NIV has failed',
      'dmd2018-daytime-spo2-lt-95': 'extends ventilation into the day',
      'nice-mnd-niv-24h-stopping-support': 'about stopping',
      'btsics-nmd-rapid-desaturation-in-niv-break': 'is on NIV already: an emergency in a pause',
      'fallback-drowsy-confused-or-morning-headache-worse': "the person's own NIV stays on",
      'fallback-spo2-lt-90-any-gas': "the person's own ventilator goes on",
      'fallback-co2-raised-and-unwell': "the person's own ventilator goes on",
      'fallback-co2-raised-awake-on-niv': 'is on NIV already',
      'fallback-niv-failing-despite-optimisation': 'belongs to invasive ventilation',
      'fallback-chest-infection-with-weak-cough': 'NIV for more hours during an infection, where it is in use',
    },
  };
  const named = (id: string): Set<string> =>
    new Set(
      [
        undefined,
        ...Object.values(readCriteria()).flatMap(({ disease }) => (disease === 'any' ? [] : [disease])),
      ].flatMap((disease) =>
        [
          ...criteriaFor({ disease }, evidence, { decision: id }),
          ...opening(all, id, disease, evidence),
          ...bearing(all, id, disease, evidence),
        ].map((row) => row.id),
      ),
    );

  test.each(Object.entries(speaksOf))('%s', (id, words) => {
    const there = named(id);
    const missing = evidence.criteria.filter(
      (row) =>
        row.use === 'decision' &&
        categoryOf(row) === 'acting' &&
        (row.disease === 'any' || !isAcute(row.disease)) &&
        words.test(row.action) &&
        !there.has(row.id) &&
        aside[id]?.[row.id] === undefined,
    );
    expect(missing.map((row) => `${row.id}: ${row.action}`)).toEqual([]);
  });
  test('what is left out is there', () => {
    const ids = new Set(evidence.criteria.map(({ id }) => id));
    expect(
      Object.values(aside)
        .flatMap(Object.keys)
        .filter((id) => !ids.has(id)),
    ).toEqual([]);
  });
  test('what is named as bearing is a criterion of another decision', () => {
    const wrong = Object.entries(all).flatMap(([id, { bearing: named, supports }]) =>
      named
        .filter((row) => {
          const found = evidence.criteria.find((one) => one.id === row);
          return found === undefined || supports.includes(found.support);
        })
        .map((row) => `${id}: ${row}`),
    );
    expect(wrong).toEqual([]);
  });
  test("NICE's numbers open the conversation about night ventilation in ALS, and stand under closer monitoring", () => {
    const numbers = [
      'nice-mnd-fvc-lt-50',
      'nice-mnd-fvc-lt-80-with-symptoms',
      'nice-mnd-snip-or-mip-lt-40',
      'nice-mnd-snip-or-mip-lt-65-men-with-symptoms',
      'nice-mnd-snip-or-mip-lt-55-women-with-symptoms',
      'nice-mnd-snip-or-mip-fall-gt-10-per-3-months',
    ];
    const ids = (rows: readonly { id: string }[]) => rows.map(({ id }) => id);
    expect(ids(opening(all, 'night-ventilation', 'als', evidence))).toEqual(expect.arrayContaining(numbers));
    expect(ids(criteriaFor({ disease: 'als' }, evidence, { decision: 'watching-closer' }))).toEqual(
      expect.arrayContaining(numbers),
    );
  });
});
