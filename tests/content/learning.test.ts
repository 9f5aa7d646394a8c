/** Teaching: every case through the evaluator, every question with one key and a reason for each answer, every lesson in its place. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { z } from '../../calculators/domain/schema.ts';
import { evaluate } from '../../calculators/evaluate/evaluate.ts';
import { categoryOf } from '../../calculators/evaluate/group.ts';
import { calculate, calculators } from '../../calculators/index.ts';
import { Case, themes } from '../../calculators/learning/case.ts';
import { visitOf } from '../../calculators/learning/case-visit.ts';
import { Competency } from '../../calculators/learning/competency.ts';
import { checkLength, leastOf } from '../../calculators/learning/mixed-check.ts';
import { Question, questionKinds } from '../../calculators/learning/question.ts';
import { convert, show } from '../../calculators/quantity.ts';
import { partsOf, readEvidence, readFacts } from '../read-content.ts';

const yaml = (file: string): unknown => parse(readFileSync(file, 'utf8'));
const evidence = readEvidence();
const facts = readFacts();
const rows = new Map(evidence.criteria.map((row) => [row.id, row]));
const cases = globSync('content/cases/*.yaml')
  .sort()
  .map((file) => ({ id: basename(file, '.yaml'), one: Case.parse(yaml(file)) }));
const questions = globSync('content/questions/*.yaml')
  .sort()
  .flatMap((file) => z.array(Question).parse(yaml(file)));
const figuresDrawn = globSync('src/figures/*.astro').map((file) => basename(file, '.astro'));
const sourceIds = new Set(Object.keys(yaml('content/sources.yaml') as object));
const competencies = z.record(z.string(), Competency).parse(yaml('content/competencies.yaml'));

interface Lesson {
  slug: string;
  data: { lesson: number; minutes: number; covers: string[]; title: string; discuss?: string[] };
  body: string;
}
const lessons: Lesson[] = globSync('content/handbook/learn/*.mdx')
  .map((file) => {
    const [, front = '', body = ''] = /^---\n([\s\S]*?)\n---\n([\s\S]*)$/.exec(readFileSync(file, 'utf8')) ?? [];
    return { slug: basename(file, '.mdx'), data: parse(front), body };
  })
  .sort((a, b) => a.data.lesson - b.data.lesson);

/** Criteria and facts that a text names in braces and that do not exist. */
const wrongNames = (text: string): string[] => {
  const { marks, facts: named } = partsOf(text);
  return [...marks.filter((id) => !rows.has(id)), ...named.filter((id) => !facts[id])];
};
/** Figures as they are read: '38.4', '24', never the 2 of CO2 or of cmH2O. */
const figures = (text: string): string[] =>
  [...text.replace(/\b(?:PaCO|PCO|CO|SpO|SaO|FiO)2\b|\bcmH2O\b|\bC[1-8]\b/g, '').matchAll(/\d+(?:\.\d+)?/g)].map(
    ([found]) => found,
  );

describe.each(cases.map(({ id, one }) => [id, one] as const))('case %s', (_, one) => {
  const found = new Map(evaluate(visitOf(one), evidence).map((finding) => [finding.criterion.id, finding]));

  test.each(
    (['met', 'not-met', 'cannot-tell'] as const).flatMap((result) =>
      one.expected[result].map((id) => [id, result] as const),
    ),
  )('%s is %s', (id, result) => {
    expect(found.get(id)?.result).toBe(result);
  });

  test('names only measures, criteria and facts that exist', () => {
    const measures = [...Object.keys(one.readings), ...Object.keys(one.signs), ...Object.keys(one.notDone)];
    expect(measures.filter((id) => !evidence.measures[id])).toEqual([]);
    const supports = Object.keys(one.supports);
    const decisions = new Set(evidence.criteria.map((row) => evidence.decisionOf(row.support)));
    expect(supports.filter((id) => !decisions.has(id))).toEqual([]);
    const flags = Object.entries(one.readings).flatMap(([id, { flags = [] }]) => {
      const measure = evidence.measures[id];
      const known = measure?.kind === 'number' ? measure.flags.map((flag) => flag.id) : [];
      return flags.filter((flag) => !known.includes(flag));
    });
    expect(flags).toEqual([]);
    expect(
      [...one.explanation, ...one.arrange.flatMap(({ text, because }) => [text, because])].flatMap(wrongNames),
    ).toEqual([]);
  });

  test('its explanations hold no figure but those of the case itself; criteria are named, not typed', () => {
    const { ageYears, heightCm } = one.person;
    const own = new Set([
      ...Object.entries(one.readings).flatMap(([id, { value, unit }]) => {
        const measure = evidence.measures[id];
        const converted = measure?.kind === 'number' ? convert(value, unit, measure.unit) : value;
        return [value, converted].flatMap((figure) => [String(Math.abs(figure)), Math.abs(figure).toFixed(1)]);
      }),
      ...[ageYears, heightCm].map(String),
      ...figures(`${one.title} ${one.story}`),
    ]);
    const texts = [...one.explanation, ...one.arrange.flatMap(({ text, because }) => [text, because])];
    const typed = texts.flatMap((text) => figures(partsOf(text).plain)).filter((figure) => !own.has(figure));
    expect(typed).toEqual([]);
  });

  test('is never scored on treatment: options carry a reason each and no key', () => {
    for (const option of one.arrange) expect(Object.keys(option).sort()).toEqual(['because', 'is', 'text']);
  });
});

describe('the cases together', () => {
  test('there are at least 24, each with its own place in the list', () => {
    expect(cases.length).toBeGreaterThanOrEqual(24);
    expect(new Set(cases.map(({ one }) => one.order)).size).toBe(cases.length);
  });
  test('every theme is practised at least twice', () => {
    const often = themes.map((theme) => [theme, cases.filter(({ one }) => one.themes.includes(theme)).length] as const);
    expect(often.filter(([theme, count]) => count < (theme === 'wishes' || theme === 'payer' ? 1 : 2))).toEqual([]);
  });
  test('all three results are practised, and most criteria asked about are ones that act', () => {
    const asked = cases.flatMap(({ one }) => one.ask);
    for (const result of ['met', 'not-met', 'cannot-tell'] as const)
      expect(cases.flatMap(({ one }) => one.expected[result]).length / asked.length).toBeGreaterThan(0.15);
    const memory = asked.filter((id) => {
      const row = rows.get(id);
      return row === undefined || categoryOf(row) === 'unchecked';
    });
    expect(memory.length / asked.length).toBeLessThan(0.05);
  });
});

describe.each(questions.map((question) => [question.id, question] as const))(
  'question %s',
  (_, { asks, options, sum, source, figure }) => {
    test('has exactly one right option, and a reason of its own for each', () => {
      expect(options.filter(({ right }) => right)).toHaveLength(1);
      expect(new Set(options.map(({ because }) => because)).size).toBe(options.length);
      for (const { because } of options) expect(because.split(' ').length).toBeGreaterThanOrEqual(6);
    });
    test('the right option is not given away by its length', () => {
      const right = options.find((option) => option.right)?.text.length ?? 0;
      const longest = Math.max(...options.filter((option) => !option.right).map(({ text }) => text.length));
      expect(right).toBeLessThanOrEqual(longest * 1.6);
    });
    test('names a source that exists, or says that it is common practice', () => {
      expect(sourceIds).toContain(source.id);
      expect(source.is === 'common-practice').toBe(source.id === 'trade-practice');
      if (source.is !== 'common-practice') expect(source.at ?? '').not.toBe('');
      // What is taught is never from memory alone.
      expect(source.is).not.toBe('from-memory');
    });
    if (figure !== undefined)
      test('shows a drawing that exists', () => {
        expect(figuresDrawn).toContain(figure);
      });
    test('names only criteria and facts that exist', () => {
      expect([asks, ...options.flatMap(({ text, because }) => [text, because])].flatMap(wrongNames)).toEqual([]);
    });
    if (sum !== undefined)
      test('prints what the calculator answers', () => {
        const outcome = calculate(sum.calculator, sum.given as never);
        if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
        const value = outcome.results[sum.result];
        const decimals = calculators[sum.calculator]?.results[sum.result]?.decimals ?? 0;
        expect(value && show(value.value, value.unit, decimals).replace('\u00a0', ' ')).toBe(sum.shows);
        expect([asks, ...options.flatMap(({ text, because }) => [text, because])].join(' ')).toContain(sum.shows);
      });
  },
);

describe('the questions together', () => {
  const check = questions.filter((question) => question.in === 'check');
  test('there are at least 60, and enough in the mixed check for two without a question twice, nearly', () => {
    expect(questions.length).toBeGreaterThanOrEqual(60);
    expect(check.length).toBeGreaterThanOrEqual(1.75 * checkLength);
  });
  test('every kind of the mixed check has more questions than one check needs, and every lesson is in it', () => {
    for (const kind of questionKinds)
      expect({ kind, many: check.filter((one) => one.kind === kind).length > leastOf[kind] }).toEqual({
        kind,
        many: true,
      });
    expect(lessons.filter(({ slug }) => !check.some(({ lesson }) => lesson === slug)).map(({ slug }) => slug)).toEqual(
      [],
    );
  });
  test('no drawing is asked about twice, so that a page with all questions has each once', () => {
    const shown = check.flatMap(({ figure }) => figure ?? []);
    expect(new Set(shown).size).toBe(shown.length);
  });
});

describe('the path', () => {
  test('is ten lessons, numbered in order, of five to ten minutes each', () => {
    expect(lessons.map(({ data }) => data.lesson)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    for (const { data } of lessons) {
      expect(data.minutes).toBeGreaterThanOrEqual(5);
      expect(data.minutes).toBeLessThanOrEqual(10);
    }
  });
  test('question ids and places are unique, and every right answer is not always the same place', () => {
    expect(new Set(questions.map(({ id }) => id)).size).toBe(questions.length);
    const places = questions.map(({ options }) => options.findIndex((option) => option.right));
    for (const place of [0, 1, 2])
      expect(places.filter((one) => one === place).length).toBeGreaterThan(questions.length / 6);
  });
  test.each(lessons.map((lesson) => [lesson.slug, lesson] as const))(
    '%s has a figure, and points to discuss',
    (_, { body, data }) => {
      const shown = [...body.matchAll(/<Figure id="([^"]+)"/g)].map(([, id]) => id);
      expect(shown.length).toBeGreaterThan(0);
      expect(shown.filter((id) => !figuresDrawn.includes(id ?? ''))).toEqual([]);
      expect(data.discuss?.length ?? 0).toBeGreaterThanOrEqual(3);
      for (const point of data.discuss ?? []) expect(point).toMatch(/[.?]$/);
    },
  );
  test('lesson three folds its formula, and no z-score is in the first week', () => {
    const third = lessons[2]?.body ?? '';
    expect(third).toMatch(/<WorkedSum calculator="predicted-vital-capacity"[^>]* folded \/>/);
    expect(lessons.filter(({ body }) => /percent-and-z/.test(body)).map(({ slug }) => slug)).toEqual([]);
  });
  test.each(lessons.map((lesson) => [lesson.slug, lesson] as const))(
    '%s has a worked sum, shows all its two or three questions, and builds on pages',
    (slug, { body, data }) => {
      const own = questions.filter((one) => one.in === 'lesson' && one.lesson === slug).map(({ id }) => id);
      const shown = [...body.matchAll(/<Question id="([^"]+)"/g)].map(([, id]) => id);
      expect(own.length).toBeGreaterThanOrEqual(2);
      expect(own.length).toBeLessThanOrEqual(3);
      expect(shown.sort()).toEqual(own.sort());
      expect(body).toMatch(/<WorkedSum calculator="[^"]+"/);
      expect((body.match(/\]\(\/(?!learn\/)/g) ?? []).length).toBeGreaterThanOrEqual(3);
      expect(data.covers.filter((id) => !competencies[id])).toEqual([]);
      expect(data.covers.length).toBeGreaterThan(0);
    },
  );
  test('every link of a lesson leads to a page of the handbook, a calculator or a learning page', () => {
    const pages = new Set([
      ...globSync('content/handbook/**/*.mdx').map((file) => file.replace('content/handbook', '').replace('.mdx', '/')),
      ...Object.keys(calculators).map((id) => `/calculators/${id}/`),
      ...cases.map(({ id }) => `/learn/cases/${id}/`),
      '/learn/',
      '/learn/cases/',
      '/learn/see-it-move/',
      '/learn/pocket/',
      '/learn/teacher/',
      '/learn/check/',
      '/learn/record/',
      '/visit/',
      '/handbook/',
      '/glossary/',
      '/urgent/',
      '/evidence/disagreements/',
      '/evidence/',
      '/calculators/',
    ]);
    const dead = lessons.flatMap(({ slug, body }) =>
      [...body.matchAll(/\]\((\/[^)#]*)/g)].filter(([, to]) => !pages.has(to ?? '')).map(([, to]) => `${slug}: ${to}`),
    );
    expect(dead).toEqual([]);
  });
  test('every competency is covered by a lesson', () => {
    const covered = new Set(lessons.flatMap(({ data }) => data.covers));
    expect(Object.keys(competencies).filter((id) => !covered.has(id))).toEqual([]);
  });
  test('every question belongs to a lesson', () => {
    expect(questions.filter(({ lesson }) => !lessons.some(({ slug }) => slug === lesson)).map(({ id }) => id)).toEqual(
      [],
    );
  });
});
