/**
 * A clinic's own criteria beside the published ones: as rows that the evaluator takes, and how far each departs from
 * what is published. Nothing here hides or changes a published criterion.
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
import type { AgreedCriterion, AgreedRule, Agreement } from './agreement.ts';

/** The handbook's data that an agreement is compared with. */
export interface Published extends Evidence {
  decisions: Decisions;
}

export const localId = (criterion: Pick<AgreedCriterion, 'id'>): string => `local:${criterion.id}`;

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

/**
 * What a published criterion asks besides its own comparison, as it is copied into an agreement; what is usual is left
 * out.
 */
export function ruleOf(row: Criterion): AgreedRule {
  // The note of an exception is printed with the rule; any other note is the handbook's own remark.
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

/** The published criterion as a team adopts it, with nothing changed. */
export function keep(row: Criterion, decision: string, id: string): AgreedCriterion {
  return {
    id,
    decision,
    disease: row.disease,
    population: row.population,
    ...(row.sex ? { sex: row.sex } : {}),
    measure: row.measure,
    comparator: row.comparator as AgreedCriterion['comparator'],
    ...(typeof row.value === 'number' ? { value: row.value } : {}),
    ...(row.unit && typeof row.value === 'number' ? { unit: row.unit } : {}),
    basis: row.id,
    rule: ruleOf(row),
  };
}

export const basisOf = ({ basis }: AgreedCriterion, { criteria }: Pick<Evidence, 'criteria'>): Criterion | undefined =>
  basis === undefined ? undefined : criteria.find((row) => row.id === basis);

/** Whether number and conditions are those of the published criterion that it names. It may apply to fewer people. */
export function isAsPublished(criterion: AgreedCriterion, published: Pick<Evidence, 'criteria'>): boolean {
  const basis = basisOf(criterion, published);
  return (
    basis !== undefined &&
    basis.measure === criterion.measure &&
    basis.comparator === criterion.comparator &&
    sameNumber(criterion, basis) &&
    sameRule(criterion, basis)
  );
}

const sameNumber = (criterion: AgreedCriterion, row: Criterion): boolean => {
  if (criterion.value === undefined || criterion.unit === undefined) return criterion.value === row.value;
  if (typeof row.value !== 'number' || row.unit === undefined || !convertible(criterion.unit, row.unit)) return false;
  return compare(convert(criterion.value, criterion.unit, row.unit), row.value, criterion.unit !== row.unit) === 0;
};

const sameRule = (criterion: AgreedCriterion, basis: Criterion): boolean =>
  stable(asked(criterion.rule ?? {})) === stable(asked(ruleOf(basis)));

/**
 * What a rule asks of a reading. Its wording, and diseases that were taken out of it since, do not make it a different
 * rule.
 */
const asked = ({ notFor: _n, attentionWhen: _w, act: _a, urgentPage: _p, ...rule }: AgreedRule): AgreedRule => rule;

/** The same text for the same data, whatever order its fields came in. */
export const stable = (value: unknown): string =>
  JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );

/**
 * Every published criterion that a team looks at when it sets this one: same decision and measure, and people in
 * common.
 */
export function rowsBeside(criterion: AgreedCriterion, evidence: Evidence): Criterion[] {
  const { decision, measure, population } = criterion;
  const people = peopleOf(criterion);
  return criteriaFor({ sex: criterion.sex }, evidence, { decision, measure, evaluated: true }).filter(
    (row) =>
      (population === row.population || population === 'any' || row.population === 'any') &&
      people.some((person) => scopeOf(row, person, evidence.measures[row.measure]) !== 'out'),
  );
}

/** For whom a criterion is set: someone with its disease, or with any slow one. */
const peopleOf = ({ disease }: AgreedCriterion): Person[] =>
  (disease === 'any' ? slowDiseases : [disease]).map((one) => ({ disease: one }));
const slowDiseases = diseases.filter((disease) => !isAcute(disease));

/** The fields by which the evaluator decides to whom a criterion applies, filled in for a clinic's own. */
const scopedCriterion = ({
  decision,
  disease,
  population,
  sex,
  rule,
}: AgreedCriterion): Scoped & Pick<Criterion, 'use'> => ({
  ...rule,
  // A clinic's own criterion for urgent help is to be seen on the day.
  urgency: rule?.urgency ?? (rule === undefined && decision === 'urgent-help' ? 'same-day' : 'routine'),
  use: rule?.use ?? 'decision',
  disease,
  population,
  sex,
});

/** The agreement's criteria that may be shown for this person, by the evaluator's own rule. */
export const agreedCriteriaFor = (person: Person, { marks }: Agreement, { measures }: Pick<Evidence, 'measures'>) =>
  marks.filter((criterion) => scopeOf(scopedCriterion(criterion), person, own(measures, criterion.measure)) !== 'out');

export interface Span {
  /** in the measure's own unit */
  low: number;
  high: number;
}

type Numbered = Pick<AgreedCriterion, 'comparator' | 'value' | 'unit'>;

/** Numbers read at a source or in a summary, in force, on the same side of the measure as the clinic's. */
function numbersBeside(criterion: AgreedCriterion, published: Evidence, measure: Measure): Numbered[] {
  if (measure.kind !== 'number') return [];
  return rowsBeside(criterion, published)
    .filter((row) => row.standing !== 'from-memory' && row.status === 'current' && sameUse(criterion, row))
    .flatMap((row) =>
      [row, ...(row.alternative ? [row.alternative] : [])].filter((part) => part.measure === criterion.measure),
    )
    .flatMap(({ comparator, value, unit }) =>
      typeof value === 'number' && comparator.charAt(0) === criterion.comparator.charAt(0)
        ? [
            {
              comparator: comparator as AgreedCriterion['comparator'],
              value: convert(value, unit ?? measure.unit, measure.unit),
              unit: measure.unit,
            },
          ]
        : [],
    );
}

/** A limit of a device or an interval is never a number to start support at. */
const sameUse = (criterion: AgreedCriterion, row: Criterion): boolean => {
  const kind = (use: string) => (use === 'decision' || use === 'evidence' ? 'need' : use);
  return kind(row.use) === kind(criterion.rule?.use ?? 'decision');
};

/** The published numbers from the lowest to the highest, in the measure's own unit. */
export function publishedSpan(criterion: AgreedCriterion, published: Evidence): Span | undefined {
  const measure = published.measures[criterion.measure];
  const values =
    measure === undefined ? [] : numbersBeside(criterion, published, measure).map(({ value }) => value ?? 0);
  return values.length === 0 ? undefined : { low: Math.min(...values), high: Math.max(...values) };
}

/** @returns how a criterion departs from the published ones; undefined when it is one of them or lies among them */
export function departureOf(criterion: AgreedCriterion, published: Evidence): Departure | undefined {
  const basis = basisOf(criterion, published);
  if (isAsPublished(criterion, published)) return basis?.status === 'current' ? undefined : 'replaced';
  if (basis !== undefined && !sameRule(criterion, basis)) return 'other-conditions';
  const measure = published.measures[criterion.measure];
  if (measure?.kind !== 'number' || criterion.value === undefined)
    return rowsBeside(criterion, published).some(
      (row) => row.comparator === criterion.comparator && row.standing !== 'from-memory',
    )
      ? undefined
      : 'alone';
  const beside = numbersBeside(criterion, published, measure);
  if (beside.length === 0) return 'alone';
  const own: Numbered = { ...criterion, value: convert(criterion.value, criterion.unit ?? measure.unit, measure.unit) };
  const converted = criterion.unit !== undefined && criterion.unit !== measure.unit;
  // For a number that calls for support, the threshold that more readings meet is the more careful one. For a caution,
  // a schedule or a limit it is not known which one is, and the result is 'outside'.
  const careful = ['decision', 'evidence'].includes(criterion.rule?.use ?? 'decision');
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

/**
 * The agreement's criteria as rows for the evaluator. A criterion on a measure or decision that this handbook does not
 * have is left out.
 */
export function asCriteria(agreement: Agreement, published: Published): Criterion[] {
  return agreement.marks.flatMap((criterion) => {
    const support = criterion.rule?.support ?? own(published.decisions, criterion.decision)?.supports[0];
    if (support === undefined || own(published.measures, criterion.measure) === undefined) return [];
    const basis = basisOf(criterion, published);
    const { measure, comparator, value, unit, rule } = criterion;
    const row: Criterion = {
      ...rule,
      ...scopedCriterion(criterion),
      id: localId(criterion),
      support,
      measure,
      comparator,
      value,
      unit,
      alsoRequires: rule?.alsoRequires ?? [],
      context: criterion.reason ?? '',
      action: basis?.action ?? 'What the clinic has agreed on.',
      strength: '',
      source: 'agreement',
      locator: criterion.basis === undefined ? 'own criterion' : `from ${criterion.basis}`,
      status: 'current',
      standing: basis?.standing ?? 'common-practice',
      read: '',
      local: {
        clinic: agreement.clinic,
        agreed: agreement.agreed,
        ...(agreement.status === 'draft' ? { draft: true as const } : {}),
        departs: departureOf(criterion, published),
        reason: criterion.reason,
        read: criterion.read,
      },
    };
    return [row];
  });
}

/** The handbook's evidence with the clinic's criteria beside it. */
export function withLocal<T extends Published>(published: T, agreement: Agreement | undefined): T {
  return agreement === undefined
    ? published
    : { ...published, criteria: [...asCriteria(agreement, published), ...published.criteria] };
}
