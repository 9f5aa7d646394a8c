/**
 * A case prepared for its page: what is read, what is asked, and only the evidence that the criteria asked about need.
 */

import type { Criterion } from '../../calculators/domain/criterion.ts';
import { diseaseNames } from '../../calculators/domain/diseases.ts';
import type { Measure, Measures, NumberMeasure } from '../../calculators/domain/measure.ts';
import { supportStatusWords, wishWords } from '../../calculators/domain/visit.ts';
import { evaluate, type Finding } from '../../calculators/evaluate/evaluate.ts';
import { flagWords, readingWords, signClause } from '../../calculators/evaluate/say.ts';
import type { Case } from '../../calculators/learning/case.ts';
import { visitOf } from '../../calculators/learning/case-visit.ts';
import { show } from '../../calculators/quantity.ts';
import { criterionSentence } from '../components/criterion-sentence.ts';
import { criteria, decisionOf, decisions, evidence, measures, need, sources } from '../evidence/evidence.ts';
import { fillNumbers } from '../evidence/fill-numbers.ts';
import type { CaseData } from '../islands/case/CaseWork.tsx';

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const uncapital = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

/** The measures that these rows can ask about, with what those are made of; without what only other pages print. */
function measuresBehind(rows: readonly Criterion[]): Measures {
  const wanted: Measures = {};
  const named = new Set(rows.flatMap(partsOfRow));
  const take = (id: string): void => {
    const measure = measures[id];
    if (wanted[id] !== undefined || measure === undefined) return;
    wanted[id] = trimmed(measure, named.has(id));
    if (measure.kind === 'sign')
      for (const part of [
        ...(measure.anyOf ?? []),
        ...(measure.allOf ?? []),
        ...measure.impliedBy.map((rule) => rule.measure),
      ])
        take(part);
    if (measure.kind === 'number') for (const from of measure.readFrom?.measures ?? []) take(from);
  };
  for (const id of named) take(id);
  return wanted;
}

/** Every measure that a row names itself; the others are only what these are made of. */
const partsOfRow = ({ measure, alternative, alsoRequires }: Criterion): string[] => [
  measure,
  ...(alternative ? [alternative.measure] : []),
  ...alsoRequires.flatMap((part) => ('anyOf' in part ? part.anyOf : [part.measure])),
];

/** What the evaluator and its sentences read. */
function trimmed(measure: Measure, named: boolean): Measure {
  const { how: _how, loinc: _loinc, page: _page, ...rest } = measure;
  if (measure.kind === 'number') {
    const {
      accepts: _a,
      plausible: _p,
      hard: _h,
      usual: _u,
      notWhen: _n,
      notDone: _d,
      ways: _w,
      ...number
    } = rest as NumberMeasure;
    return { ...number, label: '', synonyms: [] } as unknown as Measure;
  }
  if (measure.kind !== 'sign') return rest as Measure;
  const { anyOf, allOf, short, kind, abnormal, impliedBy, settledBy, when } = measure;
  return {
    kind,
    abnormal,
    impliedBy,
    settledBy,
    short,
    ...(named && when ? { when } : {}),
    ...(anyOf ? { anyOf } : {}),
    ...(allOf ? { allOf } : {}),
  } as Measure;
}

const rowOf = (id: string): Criterion => {
  const found = criteria.find((row) => row.id === id);
  if (!found) throw new Error(`content/cases: no mark "${id}"`);
  return found;
};

export function caseData(id: string, one: Case): CaseData {
  const rows = one.ask.map(rowOf);
  return {
    id,
    visit: visitOf(one),
    criteria: rows.map(
      ({
        read: _read,
        settle: _settle,
        strength: _strength,
        context: _context,
        locator: _locator,
        checked: _checked,
        ...row
      }) => row as Criterion,
    ),
    measures: measuresBehind([...rows]),
    asks: rows.map((row) => ({
      id: row.id,
      by: need(sources, row.source, 'sources.yaml').short,
      source: row.source,
      words: criterionSentence(row, measures),
      standing: row.standing,
      support: decisionOf(row),
    })),
    arrange: one.arrange.map(({ text }) => fillNumbers(text)),
  };
}

/**
 * The findings on the criteria asked about, for readers without the script: the same evaluator, run when the site is
 * built.
 */
export function findingsOf(one: Case): Finding[] {
  const found = evaluate(visitOf(one), evidence);
  return one.ask.map((id) => {
    const finding = found.find(({ criterion }) => criterion.id === id);
    if (!finding) throw new Error(`content/cases: "${id}" is not shown for ${one.title}`);
    return finding;
  });
}

/** What could be arranged and why, with the explanation: printed once, folded, and opened when the reader has compared. */
export const reasonsOf = (one: Case) => ({
  arrange: one.arrange.map((option) => ({
    ...option,
    text: fillNumbers(option.text),
    because: fillNumbers(option.because),
  })),
  explanation: one.explanation.map(fillNumbers),
});

interface CaseReading {
  label: string;
  value: string;
  taken: string;
}

const gasWords = { air: 'on air', oxygen: 'on oxygen', ventilation: 'on the ventilator' } as const;

export function readingsOf(one: Case): CaseReading[] {
  return Object.entries(visitOf(one).readings).map(([id, reading]) => {
    const measure = need(measures, id, 'measures.yaml');
    const worked = reading.from
      ? `calculated from ${reading.from.map((from) => measures[from]?.short ?? from).join(' and ')}`
      : '';
    return {
      label: measure.label,
      value:
        reading.from && measure.kind === 'number'
          ? `${show(reading.value, reading.unit, measure.decimals)}${measure.of ? ` ${measure.of}` : ''}`
          : (typed(one, id) ?? readingWords(reading, measure)),
      taken: [
        worked,
        reading.gas && gasWords[reading.gas],
        !reading.from && reading.posture,
        reading.method,
        ...flagWords(reading, measure, measures),
      ]
        .filter(Boolean)
        .join('; '),
    };
  });
}

/** As it stood on paper: a minus sign stays where someone wrote one. */
function typed(one: Case, id: string): string | undefined {
  const reading = one.readings[id];
  const decimals = String(reading?.value ?? '').split('.')[1]?.length ?? 0;
  const measure = measures[id];
  return (
    reading &&
    `${show(reading.value, reading.unit, decimals)}${measure?.kind === 'number' && measure.of && reading.unit === measure.unit ? ` ${measure.of}` : ''}`
  );
}

/** A sign by its label, and one whose label is a question by what its answer says. */
function labelOf(id: string): string {
  const { label } = need(measures, id, 'measures.yaml');
  return label.endsWith('?') ? capital(signClause(id, 'present', measures)) : label;
}

export const answered = (one: Case, answer: 'present' | 'absent'): string[] =>
  Object.entries(one.signs).flatMap(([id, sign]) => (sign === answer ? [labelOf(id)] : []));

export const notDoneOf = (one: Case): string[] =>
  Object.entries(one.notDone).map(([id, reason]) => `${need(measures, id, 'measures.yaml').short} (${reason})`);

/** A theme as a reader sees it, where its short name in the files would puzzle. */
const themeWords: Readonly<Partial<Record<Case['themes'][number], string>>> = {
  slow: 'slowly progressive disease',
  fast: 'fast-moving disease',
  acute: 'acute illness',
  bulbar: 'bulbar weakness',
  'on the line': 'a value at a threshold',
  payer: 'payer rules',
};
export const themesOf = ({ themes }: Case): string => themes.map((theme) => themeWords[theme] ?? theme).join(', ');

export const personOf = ({ person: { disease, sex, ageYears, heightCm } }: Case): string =>
  [
    disease && diseaseNames[disease],
    ageYears !== undefined && (ageYears < 2 ? show(ageYears * 12, 'mo', 0) : show(ageYears, 'a', 0)),
    sex,
    heightCm !== undefined && show(heightCm, 'cm', 0),
  ]
    .filter(Boolean)
    .join('\u00a0\u00b7 ');

export const supportsOf = (one: Case): string[] => [
  ...Object.entries(one.supports).map(([decision, status]) => {
    const title = uncapital(need(decisions, decision, 'decisions.yaml').title);
    return status === 'none' ? `no ${title}` : `${title} ${supportStatusWords[status]}`;
  }),
  ...one.wishes.map((wish) => uncapital(wishWords[wish])),
];
