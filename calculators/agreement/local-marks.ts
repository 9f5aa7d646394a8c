/**
 * A clinic's own marks beside the published ones: as rows that the evaluator takes, and how far each departs from what
 * is published. Nothing here hides or changes a published mark.
 */

import type { Criterion } from '../domain/criterion.ts';
import type { Decisions } from '../domain/decision.ts';
import { diseases, isAcute } from '../domain/diseases.ts';
import type { Evidence } from '../domain/evidence.ts';
import type { Departure } from '../domain/local-row.ts';
import type { Measure } from '../domain/measure.ts';
import type { Person } from '../domain/person.ts';
import { criteriaFor } from '../evaluate/criteria-for.ts';
import { type Scoped, scopeOf } from '../evaluate/scope.ts';
import { compare, convert, convertible } from '../quantity.ts';
import type { AgreedMark, AgreedRule, Agreement } from './agreement.ts';

/** What an agreement is checked against: the handbook. */
export interface Published extends Evidence {
  decisions: Decisions;
}

export const localId = (mark: Pick<AgreedMark, 'id'>): string => `local:${mark.id}`;

const ruleFields = [
  'support',
  'posture',
  'anyGas',
  'acute',
  'minAgeYears',
  'maxAgeYears',
  'notFor',
  'attentionWhen',
  'act',
  'urgentPage',
] as const;

/** What a published mark asks besides its own comparison, as it is copied into an agreement; what is usual is left out. */
export function ruleOf(row: Criterion): AgreedRule {
  // The note of an exception is part of what is said; any other is the handbook's own remark.
  const plain = ({ note, ...condition }: NonNullable<Criterion['alternative']>) =>
    condition.unanswered && note ? { ...condition, note } : condition;
  const rule = {
    ...Object.fromEntries(ruleFields.map((field) => [field, row[field]])),
    urgency: row.urgency === 'routine' ? undefined : row.urgency,
    use: row.use === 'decision' ? undefined : row.use,
    // Otherwise the comparator says it.
    atThreshold: row.atThreshold === 'cannot-tell' ? row.atThreshold : undefined,
    alternative: row.alternative && plain(row.alternative),
    alsoRequires:
      row.alsoRequires.length === 0
        ? undefined
        : row.alsoRequires.map((part) => ('anyOf' in part ? part : plain(part))),
  } as AgreedRule;
  return Object.fromEntries(Object.entries(rule).filter(([, value]) => value !== undefined));
}

/** The published mark as the team takes it over whole. */
export function keep(row: Criterion, decision: string, id: string): AgreedMark {
  return {
    id,
    decision,
    disease: row.disease,
    population: row.population,
    ...(row.sex ? { sex: row.sex } : {}),
    measure: row.measure,
    comparator: row.comparator as AgreedMark['comparator'],
    ...(typeof row.value === 'number' ? { value: row.value } : {}),
    ...(row.unit && typeof row.value === 'number' ? { unit: row.unit } : {}),
    basis: row.id,
    rule: ruleOf(row),
  };
}

export const basisOf = ({ basis }: AgreedMark, { criteria }: Pick<Evidence, 'criteria'>): Criterion | undefined =>
  basis === undefined ? undefined : criteria.find((row) => row.id === basis);

/** Whether the mark is the published one that it names, number and conditions. It may be kept for fewer people. */
export function isKept(mark: AgreedMark, published: Pick<Evidence, 'criteria'>): boolean {
  const basis = basisOf(mark, published);
  return (
    basis !== undefined &&
    basis.measure === mark.measure &&
    basis.comparator === mark.comparator &&
    sameNumber(mark, basis) &&
    sameRule(mark, basis)
  );
}

const sameNumber = (mark: AgreedMark, row: Criterion): boolean => {
  if (mark.value === undefined || mark.unit === undefined) return mark.value === row.value;
  if (typeof row.value !== 'number' || row.unit === undefined || !convertible(mark.unit, row.unit)) return false;
  return compare(convert(mark.value, mark.unit, row.unit), row.value, mark.unit !== row.unit) === 0;
};

const sameRule = (mark: AgreedMark, basis: Criterion): boolean =>
  stable(asked(mark.rule ?? {})) === stable(asked(ruleOf(basis)));

/** What a rule asks of a reading. How it is said, and the diseases it was since taken out of, make no agreed rule another. */
const asked = ({ notFor: _n, attentionWhen: _w, act: _a, urgentPage: _p, ...rule }: AgreedRule): AgreedRule => rule;

/** The same text for the same data, whatever order its fields came in. */
export const stable = (value: unknown): string =>
  JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );

/** Every published mark that a team looks at when it sets this one: same decision and measure, and people in common. */
export function rowsBeside(mark: AgreedMark, evidence: Evidence): Criterion[] {
  const { decision, measure, population } = mark;
  const people = peopleOf(mark);
  return criteriaFor({ sex: mark.sex }, evidence, { decision, measure, evaluated: true }).filter(
    (row) =>
      (population === row.population || population === 'any' || row.population === 'any') &&
      people.some((person) => scopeOf(row, person, evidence.measures[row.measure]) !== 'out'),
  );
}

/** For whom a mark is set: someone with its disease, or with any slow one. */
const peopleOf = ({ disease }: AgreedMark): Person[] =>
  (disease === 'any' ? slowDiseases : [disease]).map((one) => ({ disease: one }));
const slowDiseases = diseases.filter((disease) => !isAcute(disease));

/** What the evaluator asks of a row to say for whom it holds, as the row of this mark answers it. */
const scopedMark = ({ decision, disease, population, sex, rule }: AgreedMark): Scoped & Pick<Criterion, 'use'> => ({
  ...rule,
  // A clinic's own criterion for urgent help is to be seen on the day.
  urgency: rule?.urgency ?? (rule === undefined && decision === 'urgent-help' ? 'same-day' : 'routine'),
  use: rule?.use ?? 'decision',
  disease,
  population,
  sex,
});

/** The agreement's marks that may be shown for this person: the rule of the evaluator, so that a page shows no other. */
export const agreedMarksFor = (person: Person, { marks }: Agreement, { measures }: Pick<Evidence, 'measures'>) =>
  marks.filter((mark) => scopeOf(scopedMark(mark), person, own(measures, mark.measure)) !== 'out');

export interface Span {
  /** in the measure's own unit */
  low: number;
  high: number;
}

type Numbered = Pick<AgreedMark, 'comparator' | 'value' | 'unit'>;

/** Numbers read at a source or in a summary, in force, on the same side of the measure as the mark. */
function numbersBeside(mark: AgreedMark, published: Evidence, measure: Measure): Numbered[] {
  if (measure.kind !== 'number') return [];
  return rowsBeside(mark, published)
    .filter((row) => row.standing !== 'from-memory' && row.status === 'current' && sameUse(mark, row))
    .flatMap((row) =>
      [row, ...(row.alternative ? [row.alternative] : [])].filter((part) => part.measure === mark.measure),
    )
    .flatMap(({ comparator, value, unit }) =>
      typeof value === 'number' && comparator.charAt(0) === mark.comparator.charAt(0)
        ? [
            {
              comparator: comparator as AgreedMark['comparator'],
              value: convert(value, unit ?? measure.unit, measure.unit),
              unit: measure.unit,
            },
          ]
        : [],
    );
}

/** A limit of a device or an interval is never a number to start support at. */
const sameUse = (mark: AgreedMark, row: Criterion): boolean => {
  const kind = (use: string) => (use === 'decision' || use === 'evidence' ? 'need' : use);
  return kind(row.use) === kind(mark.rule?.use ?? 'decision');
};

/** The published numbers from the lowest to the highest, in the measure's own unit. */
export function publishedSpan(mark: AgreedMark, published: Evidence): Span | undefined {
  const measure = published.measures[mark.measure];
  const values = measure === undefined ? [] : numbersBeside(mark, published, measure).map(({ value }) => value ?? 0);
  return values.length === 0 ? undefined : { low: Math.min(...values), high: Math.max(...values) };
}

/** @returns how a mark departs from the published ones, or nothing when it is one of them or lies among them */
export function departureOf(mark: AgreedMark, published: Evidence): Departure | undefined {
  const basis = basisOf(mark, published);
  if (isKept(mark, published)) return basis?.status === 'current' ? undefined : 'replaced';
  if (basis !== undefined && !sameRule(mark, basis)) return 'other-conditions';
  const measure = published.measures[mark.measure];
  if (measure?.kind !== 'number' || mark.value === undefined)
    return rowsBeside(mark, published).some(
      (row) => row.comparator === mark.comparator && row.standing !== 'from-memory',
    )
      ? undefined
      : 'alone';
  const beside = numbersBeside(mark, published, measure);
  if (beside.length === 0) return 'alone';
  const own: Numbered = { ...mark, value: convert(mark.value, mark.unit ?? measure.unit, measure.unit) };
  const converted = mark.unit !== undefined && mark.unit !== measure.unit;
  // For a number that calls for support, the mark that more readings meet is the more careful one. For a caution, a
  // schedule or a limit that is not known, and nothing is said about it.
  const careful = ['decision', 'evidence'].includes(mark.rule?.use ?? 'decision');
  const order = (other: Numbered) => carefulness(own, other, converted);
  const below = beside.every((other) => order(other) < 0);
  const above = beside.every((other) => order(other) > 0);
  if (!below && !above) return undefined;
  return careful ? (below ? 'less-cautious' : 'more-cautious') : 'outside';
}

/** Above zero when more readings meet `a` than `b`; both on one side of one measure, in one unit. */
function carefulness(a: Numbered, b: Numbered, converted: boolean): number {
  const order = compare(a.value ?? 0, b.value ?? 0, converted);
  if (order !== 0) return a.comparator.startsWith('<') ? order : -order;
  return Number(a.comparator.endsWith('=')) - Number(b.comparator.endsWith('='));
}

const own = <T>(from: Record<string, T>, id: string): T | undefined => (Object.hasOwn(from, id) ? from[id] : undefined);

/** The agreement's marks as rows for the evaluator. A mark on a measure or decision that this handbook does not have is left out. */
export function asCriteria(agreement: Agreement, published: Published): Criterion[] {
  return agreement.marks.flatMap((mark) => {
    const support = mark.rule?.support ?? own(published.decisions, mark.decision)?.supports[0];
    if (support === undefined || own(published.measures, mark.measure) === undefined) return [];
    const basis = basisOf(mark, published);
    const { measure, comparator, value, unit, rule } = mark;
    const row: Criterion = {
      ...rule,
      ...scopedMark(mark),
      id: localId(mark),
      support,
      measure,
      comparator,
      value,
      unit,
      alsoRequires: rule?.alsoRequires ?? [],
      context: mark.reason ?? '',
      action: basis?.action ?? 'What the clinic has agreed on.',
      strength: '',
      source: 'agreement',
      locator: mark.basis === undefined ? 'own criterion' : `from ${mark.basis}`,
      status: 'current',
      standing: basis?.standing ?? 'common-practice',
      read: '',
      local: {
        clinic: agreement.clinic,
        agreed: agreement.agreed,
        departs: departureOf(mark, published),
        reason: mark.reason,
        read: mark.read,
      },
    };
    return [row];
  });
}

/** The handbook's evidence with the clinic's marks beside it. */
export function withLocal<T extends Published>(published: T, agreement: Agreement | undefined): T {
  return agreement === undefined
    ? published
    : { ...published, criteria: [...asCriteria(agreement, published), ...published.criteria] };
}
