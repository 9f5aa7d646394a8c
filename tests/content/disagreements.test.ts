/** Where sources disagree: whole, tied to the rows, and free of numbers typed by hand. */
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Criterion, isEvaluated } from '../../calculators/domain/criterion.ts';
import { partsOf, readCriteria, readDisagreements, readEvidence, readFacts, typedNumber } from '../read-content.ts';

const sections = Object.entries(readDisagreements());
const criteria = readCriteria();
const { decisionOf } = readEvidence();
const byId = new Map(criteria.map((row) => [row.id, row]));
const facts = readFacts();

const criteriaIn = (id: string): Set<string> =>
  new Set(sections.filter(([name]) => name === id).flatMap(([, { groups }]) => groups.flatMap(({ marks }) => marks)));
/** Rows that a section ought to hold and does not. */
const forgotten = (section: string, belongs: (row: Criterion) => boolean): string[] => {
  const wanted = criteria.filter((row) => isEvaluated(row) && row.status === 'current' && belongs(row));
  expect(wanted.length).toBeGreaterThan(0);
  const listed = criteriaIn(section);
  return wanted
    .filter(({ id }) => !listed.has(id))
    .map(({ id }) => `add ${id} to a group of ${section} in content/disagreements.yaml`);
};
const forDecision = (row: Criterion, decisions: readonly string[]): boolean =>
  decisions.includes(decisionOf(row.support) ?? '');

describe('what a section names', () => {
  test('all twelve questions on which sources disagree are there', () => {
    expect(sections.map(([id]) => id)).toEqual([
      'night-ventilation-als',
      'night-ventilation-bulbar',
      'how-often-to-test',
      'cough-flow',
      'duchenne-editions',
      'night-hypoventilation',
      'gastrostomy-timing',
      'oxygen',
      'acute-failure',
      'back-up-equipment',
      'supine-fall',
      'copies-of-one-guideline',
    ]);
  });
  test('every criterion in a group is a row of the criteria, and stands there once', () => {
    for (const [id, { groups }] of sections)
      for (const { title, marks } of groups) {
        expect({ id, title, unknown: marks.filter((named) => !byId.has(named)) }).toEqual({ id, title, unknown: [] });
        expect({ id, title, marks: new Set(marks).size }).toEqual({ id, title, marks: marks.length });
        expect({ id, title, empty: marks.length === 0 }).toEqual({ id, title, empty: false });
      }
  });
  test('every number in a point comes from a threshold or a fact that exists', () => {
    const unknown = sections.flatMap(([id, { points }]) =>
      points
        .map(partsOf)
        .flatMap(({ marks, facts: named }) => [
          ...marks.filter((named) => !byId.has(named)),
          ...named.filter((fact) => !Object.hasOwn(facts, fact)),
        ])
        .map((missing) => `${id}: ${missing}`),
    );
    expect(unknown).toEqual([]);
  });
  test('no number is typed by hand, and no brace is left over', () => {
    const texts = sections.flatMap(([id, { title, question, points, groups }]) =>
      [title, question, ...points, ...groups.map((group) => group.title)].map((sentence) => ({
        id,
        plain: partsOf(sentence).plain,
      })),
    );
    expect(texts.filter(({ plain }) => typedNumber(plain) || /[{}]/.test(plain))).toEqual([]);
  });
  test('a threshold that is named in a point has a number to say', () => {
    const silent = sections.flatMap(([id, { points }]) =>
      points
        .flatMap((point) => partsOf(point).marks)
        .filter((named) => byId.get(named)?.value === undefined)
        .map((named) => `${id}: ${named}`),
    );
    expect(silent).toEqual([]);
  });
  test('a section asks a question, has something to say, and leads to a page that exists', () => {
    for (const [id, { question, points, page }] of sections) {
      expect({ id, asks: question.endsWith('?') }).toEqual({ id, asks: true });
      expect({ id, points: points.length > 0 }).toEqual({ id, points: true });
      if (page !== undefined)
        expect({ id, page, there: existsSync(`content/handbook/${page}.mdx`) }).toEqual({ id, page, there: true });
    }
  });
});

/** A row that is added later and belongs to a question is never left out of it. */
describe('the whole spread', () => {
  test('ALS: every current criterion on vital capacity, sniff, mouth pressure and daytime carbon dioxide', () => {
    const measures = ['fvc-percent', 'snip', 'mip', 'snip-or-mip-best', 'paco2'];
    expect(
      forgotten(
        'night-ventilation-als',
        (row) =>
          ['als', 'any'].includes(row.disease) &&
          // ALS is a disease of adults: a criterion for children is never shown for it
          row.population !== 'child' &&
          forDecision(row, ['night-ventilation', 'watching-closer', 'coverage']) &&
          [row.measure, row.alternative?.measure ?? ''].some((measure) => measures.includes(measure)),
      ),
    ).toEqual([]);
  });
  test('cough: every current criterion on a cough flow', () => {
    expect(forgotten('cough-flow', ({ measure }) => measure.endsWith('cough-flow'))).toEqual([]);
  });
  test('Duchenne: every current criterion for stacking, cough and ventilation that names the disease', () => {
    const steps = ['lung-volume-recruitment', 'cough-help', 'night-ventilation', 'daytime-ventilation'];
    expect(forgotten('duchenne-editions', (row) => row.disease === 'dmd' && forDecision(row, steps))).toEqual([]);
  });
  test('nights: every current criterion on carbon dioxide or minutes of low saturation asleep', () => {
    const asleep = /^(sleep-(minutes|time)|nocturnal-(paco2|time|consecutive|minutes)|paco2-overnight|tcco2-)/;
    expect(forgotten('night-hypoventilation', ({ measure }) => asleep.test(measure))).toEqual([]);
  });
  test('lying down: every current criterion on the fall or the supine value', () => {
    expect(forgotten('supine-fall', ({ measure }) => /^fvc-(drop-)?supine-percent$/.test(measure))).toEqual([]);
  });
  test('back-up: every current criterion of dependency', () => {
    expect(forgotten('back-up-equipment', (row) => forDecision(row, ['dependency']))).toEqual([]);
  });
  test('acute failure: every current criterion that names an acute disease', () => {
    expect(forgotten('acute-failure', ({ disease }) => ['gbs', 'mg', 'sci-acute'].includes(disease))).toEqual([]);
  });
});
