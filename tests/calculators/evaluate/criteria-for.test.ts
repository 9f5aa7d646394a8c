/** One function says which criteria may be shown, and every list of the site is its answer. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { AgreedCriterion, Agreement } from '../../../calculators/agreement/agreement.ts';
import {
  agreedCriteriaFor,
  asCriteria,
  keep,
  localId,
  rowsBeside,
} from '../../../calculators/agreement/local-criteria.ts';
import { isEvaluated } from '../../../calculators/domain/comparator.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { type Disease, diseases, isAcute } from '../../../calculators/domain/person.ts';
import { criteriaFor, inScopeFor } from '../../../calculators/evaluate/criteria-for.ts';
import { criteriaSheets, leadsOnSheet, sheetCriteria, sheetParts } from '../../../src/learn/pocket-criteria.ts';
import { readSources } from '../../read-content.ts';
import { criteria, decisions, evidence, madeUp, row } from './setup.ts';
import { shownTo } from './shown-to.ts';

const ids = (rows: readonly Criterion[]): string[] => rows.map(({ id }) => id);
const shown = Object.fromEntries(diseases.map((disease) => [disease, shownTo(disease, evidence)])) as Record<
  Disease,
  Set<string>
>;

describe.each(diseases)('for %s', (disease) => {
  test('every decision page lists what the evaluator shows to someone with it, and nothing else', () => {
    for (const id of Object.keys(decisions)) {
      const expected = criteria.filter((one) => evidence.decisionOf(one.support) === id && shown[disease].has(one.id));
      expect([id, ids(criteriaFor({ disease }, evidence, { decision: id }))]).toEqual([id, ids(expected)]);
    }
  });

  test('a list about one measure is of the same criteria', () => {
    for (const measure of new Set(criteria.map((one) => one.measure))) {
      const listed = criteriaFor({ disease }, evidence, { measure });
      expect(ids(listed).filter((id) => !shown[disease].has(id))).toEqual([]);
    }
  });

  test('a criterion that a team keeps is shown where the published one is, and only that stands beside it', () => {
    const marks: AgreedCriterion[] = criteria
      .filter((one) => isEvaluated(one) && one.use !== 'coverage')
      .map((one) => keep(one, evidence.decisionOf(one.support) ?? '', one.id));
    const agreement = { clinic: 'Tern Valley', agreed: '2026-11-25', marks } as unknown as Agreement;
    const listed = agreedCriteriaFor({ disease }, agreement, evidence).map(({ id }) => id);
    expect(listed).toEqual(marks.map(({ id }) => id).filter((id) => shown[disease].has(id)));
    const own = marks
      .filter((criterion) => criterion.disease === 'any')
      .map((criterion) => ({ ...criterion, disease }));
    for (const criterion of own)
      expect(ids(rowsBeside(criterion, evidence)).filter((id) => !shown[disease].has(id))).toEqual([]);
  });
});

describe('pocket sheets', () => {
  const sheets = Object.entries(criteriaSheets).flatMap(([id, sheet]) =>
    sheet.diseases.map((disease) => ({ id, sheet, disease })),
  );

  test.each(sheets)('$id: $disease has what the evaluator shows, as far as it leads a page', ({ sheet, disease }) => {
    const expected = criteria.filter(
      (one) => shown[disease].has(one.id) && leadsOnSheet(one) && (sheet.children || one.population !== 'child'),
    );
    expect(expected.length).toBeGreaterThan(5);
    expect(ids(sheetCriteria(disease, sheet, evidence))).toEqual(ids(expected));
  });

  test('print each of those criteria, under its decision', () => {
    const all = { ...evidence, decisions, sources: readSources() };
    const sheet = criteriaSheets.als;
    if (!sheet) throw new Error('no sheet for ALS');
    const parts = sheetParts(sheet, all);
    const expected = new Set(sheetCriteria('als', sheet, evidence).map(({ support }) => evidence.decisionOf(support)));
    expect(parts.map(({ title }) => title).sort()).toEqual(
      [...expected].map((id) => decisions[id ?? '']?.title ?? '').sort(),
    );
    expect(parts.every(({ lines }) => lines.length > 0 && lines.every(({ by }) => by !== ''))).toBe(true);
  });
});

describe('what had drifted apart', () => {
  test('the fall on lying flat, hidden in cord injury by its measure, is on no list there', () => {
    const id = 'evidence-vc-fall-supine-gt-25-diaphragm';
    expect(ids(criteriaFor({ disease: 'sci' }, evidence, { decision: 'watching-closer' }))).not.toContain(id);
    expect(ids(criteriaFor({ disease: 'pompe' }, evidence, { decision: 'watching-closer' }))).toContain(id);
  });

  test.each(['gbs', 'mg'] as const)(
    'a trial of NIV is on no list of %s: the criterion rules it out there',
    (disease) => {
      const listed = ids(criteriaFor({ disease }, evidence, { decision: 'urgent-help' }));
      for (const id of ['btsics-nmd-vc-lt-1-l-rr-gt-20', 'btsics-nmd-hypercapnia-unwell-niv-now']) {
        expect(row(id).notFor?.diseases).toContain(disease);
        expect(listed).not.toContain(id);
      }
      expect(listed).toContain(`fallback-${disease}-vc-lt-1-l-rr-gt-20`);
    },
  );

  test('what is due within a week in slow disease is not shown in an acute one', () => {
    const weekly = criteria.filter(
      (one) => one.disease === 'any' && one.urgency === 'within-1-week' && one.acute !== true,
    );
    expect(weekly.length).toBeGreaterThan(0);
    for (const disease of diseases.filter(isAcute))
      expect(ids(criteriaFor({ disease }, evidence)).filter((id) => ids(weekly).includes(id))).toEqual([]);
  });

  test('a clinic\u2019s criterion for slow disease is not shown in an acute one, nor one on a measure that is hidden there', () => {
    const criterion = (parts: Partial<AgreedCriterion>): AgreedCriterion => ({
      id: 'own',
      decision: 'night-ventilation',
      disease: 'any',
      population: 'any',
      measure: 'fvc-percent',
      comparator: '<',
      value: 55,
      unit: '%',
      ...parts,
    });
    const shownIn = (disease: Disease, parts: Partial<AgreedCriterion>) =>
      agreedCriteriaFor({ disease }, { marks: [criterion(parts)] } as unknown as Agreement, evidence).length === 1;
    expect(diseases.filter((disease) => shownIn(disease, {}))).toEqual(diseases.filter((one) => !isAcute(one)));
    expect(shownIn('gbs', { decision: 'urgent-help' })).toBe(true);
    expect(shownIn('gbs', { rule: { acute: true } })).toBe(true);
    expect(shownIn('pompe', { measure: 'fvc-drop-supine-percent' })).toBe(true);
    expect(shownIn('sci', { measure: 'fvc-drop-supine-percent' })).toBe(false);
    expect(shownIn('als', { disease: 'dmd' })).toBe(false);
  });
});

describe('what is asked', () => {
  test('nothing known hides nothing, in the order of the evidence', () => {
    expect(criteriaFor({}, evidence)).toEqual(criteria);
  });

  test('an unknown age or sex keeps a criterion and says so; a known one decides', () => {
    const one = madeUp({
      measure: 'snip',
      comparator: '<',
      value: 55,
      unit: 'cm[H2O]',
      sex: 'female',
      minAgeYears: 18,
    });
    const only = { ...evidence, criteria: [one] };
    expect(inScopeFor({ disease: 'als' }, only)).toEqual([{ criterion: one, scope: { missing: ['age', 'sex'] } }]);
    expect(criteriaFor({ disease: 'als', ageYears: 17.9 }, only)).toEqual([]);
    expect(criteriaFor({ disease: 'als', sex: 'male' }, only)).toEqual([]);
    expect(criteriaFor({ disease: 'als', ageYears: 18, sex: 'female' }, only)).toEqual([one]);
    expect(criteriaFor({ ageYears: 18, sex: 'female' }, only)).toEqual([one]);
  });

  test('only what is certain, only what can be met, only of one source', () => {
    expect(ids(criteriaFor({}, evidence, { certain: true }))).toEqual(
      ids(inScopeFor({}, evidence).flatMap(({ criterion, scope }) => (scope === 'in' ? [criterion] : []))),
    );
    expect(criteriaFor({}, evidence, { evaluated: true })).toEqual(criteria.filter(isEvaluated));
    const { source } = row('chest-nmd-fvc-lt-50');
    expect(criteriaFor({}, evidence, { source })).toEqual(criteria.filter((one) => one.source === source));
  });

  test('a measure counts as an alternative too', () => {
    const found = criteria.find(({ alternative, measure }) => alternative && alternative.measure !== measure);
    expect(ids(criteriaFor({}, evidence, { measure: found?.alternative?.measure }))).toContain(found?.id);
  });

  test('a clinic\u2019s rows are among them once they are in the evidence', () => {
    const criterion = keep(row('nice-mnd-fvc-lt-50'), 'night-ventilation', 'own');
    const agreement = { clinic: 'Tern Valley', agreed: '2026-11-25', marks: [criterion] } as unknown as Agreement;
    const local = asCriteria(agreement, { ...evidence, decisions });
    const withOwn = { ...evidence, criteria: [...local, ...criteria] };
    expect(ids(criteriaFor({ disease: 'als' }, withOwn))).toContain(localId(criterion));
    expect(ids(criteriaFor({ disease: 'dmd' }, withOwn))).not.toContain(localId(criterion));
  });
});

test('the rule for acute disease stands in one file', () => {
  const files = globSync('{src,calculators}/**/*.{ts,tsx,astro}');
  expect(files.filter((file) => /\bacute === true\b/.test(readFileSync(file, 'utf8')))).toEqual([
    'calculators/evaluate/scope.ts',
  ]);
});
