/**
 * What a typed line is understood to say, beside the structure that `tests/reference/lines.yaml` expects; the head of that
 * file says how the two are compared.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { calculators } from '../../../calculators/index.ts';
import { convert, convertible, isUnit } from '../../../calculators/quantity.ts';
import type { AskedVisit } from '../../../calculators/query/asked.ts';
import { CalculationWords } from '../../../calculators/query/calculation-words.ts';
import { calculationsOf } from '../../../calculators/query/calculations.ts';
import { readLine } from '../../../calculators/query/read-line.ts';
import { asVisit, type Line, lineReader, seriesWords } from './lines.ts';

export interface StructuredLine extends Line {
  class: string;
  adult?: true;
  series?: string[];
  works?: string[];
  needs?: string[];
  refused?: string[];
  topics?: string[];
  may?: string[];
}

export const calculationWords = Object.fromEntries(
  Object.entries(parse(readFileSync('content/calculations.yaml', 'utf8')) as Record<string, unknown>).map(
    ([id, words]) => [id, CalculationWords.parse(words)] as const,
  ),
);
export const readWhole = (line: string) => readLine(line, lineReader, calculationWords);

const same = (a: number, b: number): boolean => Math.abs(a - b) <= Math.max(1e-6, Math.abs(b) * 1e-4);
/** Equal within half of the last digit that was written. */
const asWritten = (value: number, written: string): boolean =>
  Math.abs(value - Number(written)) <= 0.5000001 * 10 ** -(written.split('.')[1]?.length ?? 0);

type May = (kind: string, ...what: string[]) => boolean;

const mayOf =
  ({ may = [] }: StructuredLine): May =>
  (kind, ...what) =>
    may.some((one) => one.startsWith([kind, ...what].join(' ')));

function personFaults(entry: StructuredLine, { person }: AskedVisit, may: May): string[] {
  const faults: string[] = [];
  if (person.disease !== entry.disease) faults.push(`disease ${person.disease}, not ${entry.disease}`);
  const age = person.ageYears;
  if (
    entry.age === undefined ? age !== undefined && !may('age') : age === undefined || Math.abs(age - entry.age) > 0.05
  )
    faults.push(`age ${age}, not ${entry.age}`);
  if (person.sex !== entry.sex && !(person.sex && may('sex', person.sex)))
    faults.push(`sex ${person.sex}, not ${entry.sex}`);
  const height = person.heightCm;
  if (entry.height === undefined ? height !== undefined : height === undefined || Math.abs(height - entry.height) > 0.5)
    faults.push(`height ${height}, not ${entry.height}`);
  if (entry.child && !person.child && !(age !== undefined && age < 18)) faults.push('not known as a child');
  if (entry.adult && person.child) faults.push('known as a child');
  return faults;
}

/** 'spo2 88 % air +asleep' is there: the value in any unit, and whatever else the corpus names. */
function holds(asked: AskedVisit, reading: string): boolean {
  const [id = '', value = '', unit = '', ...more] = reading.split(' ');
  const found = asked.readings[id];
  if (!found || !isUnit(unit) || !convertible(found.unit, unit)) return false;
  const held: string[] = [
    found.gas,
    found.posture,
    found.method,
    ...(found.flags ?? []).map((flag) => `+${flag}`),
  ].filter((one) => one !== undefined);
  const gas = more.find((one) => ['air', 'oxygen', 'ventilation'].includes(one));
  return (
    same(convert(found.value, found.unit, unit), Number(value)) &&
    found.gas === gas &&
    more.every((one) => held.includes(one))
  );
}

function readingFaults(entry: StructuredLine, asked: AskedVisit): string[] {
  const { readings = [], may = [] } = entry;
  const allowed = may.flatMap((one) => (one.startsWith('reading ') ? [one.slice(8)] : []));
  const ok = (reading: string) => {
    const id = reading.split(' ')[0];
    return [reading, ...allowed.filter((one) => one.split(' ')[0] === id)].some((one) => holds(asked, one));
  };
  const expected = new Set([...readings, ...allowed].map((one) => one.split(' ')[0]));
  return [
    ...readings.filter((one) => !ok(one)).map((one) => `no reading ${one}`),
    ...Object.entries(asked.readings)
      .filter(([id]) => !expected.has(id))
      .map(([id, { value, unit }]) => `reading ${id} ${value} ${unit}`),
  ];
}

function signFaults(entry: StructuredLine, asked: AskedVisit, may: May): string[] {
  return (['present', 'absent'] as const).flatMap((sign) => {
    const wanted = entry[sign] ?? [];
    const found = Object.entries(asked.signs).flatMap(([id, is]) => (is === sign ? [id] : []));
    return [
      ...wanted.filter((id) => !found.includes(id)).map((id) => `not ${sign}: ${id}`),
      ...found.filter((id) => !wanted.includes(id) && !may(sign, id)).map((id) => `${sign}: ${id}`),
    ];
  });
}

function supportFaults({ supports = {} }: StructuredLine, asked: AskedVisit, may: May): string[] {
  const wanted = Object.entries(supports);
  return [
    ...wanted
      .filter(([id, status]) => asked.supports[id] !== status && !may('support', id, asked.supports[id] ?? '-'))
      .map(([id, status]) => `${id} ${asked.supports[id]}, not ${status}`),
    ...Object.entries(asked.supports)
      .filter(([id, status]) => supports[id] === undefined && !may('support', id, status))
      .map(([id, status]) => `${id} ${status}`),
  ];
}

function calculationFaults(entry: StructuredLine, asked: AskedVisit): string[] {
  const wanted = calculationsOf(asked, asked.person, calculationWords).map((one) => ({
    ...one,
    outcome: calculators[one.calculator]?.calculate(one.inputs),
  }));
  const of = (id: string) => wanted.find(({ calculator }) => calculator === id)?.outcome;
  const derived = (works: string): boolean => {
    const [id = '', name = '', value = ''] = works.split(' ');
    const outcome = of(id);
    const found = outcome?.ok ? outcome.results[name] : undefined;
    return found !== undefined && asWritten(found.value, value);
  };
  const problems = wanted.flatMap(({ calculator, outcome }) =>
    outcome && !outcome.ok ? outcome.problems.map(({ field }) => `${calculator} ${field}`) : [],
  );
  return [
    ...(entry.works ?? []).filter((one) => !derived(one)).map((one) => `not worked out: ${one}`),
    ...(entry.needs ?? [])
      .filter((field) => !problems.some((one) => one.endsWith(` ${field}`)))
      .map((field) => `does not ask for ${field}`),
    ...(entry.refused ?? []).filter((one) => !problems.includes(one)).map((one) => `not refused: ${one}`),
  ];
}

/** 'pao2 8.1 kpa' holds 'pao2 8.1', and '7,36' is 7.36. */
const sameOther = (typed: string, wanted: string): boolean => {
  const other = typed.replace(/(\d),(\d)/g, '$1.$2');
  return other === wanted || /^ ?[a-z%]/.test(other.startsWith(wanted) ? other.slice(wanted.length) : '-');
};

function wordFaults(entry: StructuredLine, asked: AskedVisit): string[] {
  const assumed = [
    ...asked.assumed,
    ...calculationsOf(asked, asked.person, calculationWords).flatMap((one) => one.assumed),
  ]
    .join('; ')
    .toLowerCase();
  const understood = asked.understood.join('; ').toLowerCase();
  const missing = (all: string, wanted: readonly string[] = [], what = '') =>
    wanted
      .filter(
        (words) =>
          !words
            .toLowerCase()
            .split('|')
            .some((one) => all.includes(one)),
      )
      .map((words) => `"${words}" is not ${what}: ${all}`);
  const not = new Set(asked.notUnderstood.flatMap((words) => [words, ...words.split(' ')]));
  // A length that was taken for a calculation is no measure either.
  const lengths = (asked.taken ?? []).flatMap(({ calculator, numbers }) =>
    (calculationWords[calculator]?.words ?? []).flatMap((word) =>
      Object.values(numbers).map(({ value }) => `${word} ${value}`),
    ),
  );
  const others = [...asked.others.map(({ label, typed }) => `${label} ${typed}`.toLowerCase()), ...lengths];
  return [
    ...missing(assumed, entry.assumed, 'assumed'),
    ...missing(understood, entry.understood, 'understood'),
    ...(entry.not ?? [])
      .flatMap((words) => String(words).split(' '))
      .filter((word) => !not.has(word))
      .map((word) => `"${word}" is not listed as not understood`),
    ...(entry.others ?? [])
      .filter((one) => !others.some((other) => sameOther(other, one.toLowerCase())))
      .map((one) => `no ${one} (${others})`),
  ];
}

/** The earlier values of a series, in the form of the corpus. */
function seriesFaults({ series = [] }: StructuredLine, asked: AskedVisit): string[] {
  const found = (asked.series ?? []).map(seriesWords);
  return series.filter((one) => !found.includes(one)).map((one) => `no series ${one} (${found})`);
}

/** A subject leads also where the line says nothing else. */
function pageFaults(entry: StructuredLine, asked: AskedVisit): string[] {
  const pages = [...asked.dangers, ...lineReader.topics(entry.line)].map(({ page }) => page);
  return [
    ...(entry.dangers ?? []).filter((page) => !pages.includes(page)).map((page) => `no danger ${page}`),
    ...(entry.topics ?? []).filter((page) => !pages.includes(page)).map((page) => `no topic ${page}`),
  ];
}

/** What is wrong with how a line is understood; nothing where it is right. */
export function structureFaults(entry: StructuredLine): string[] {
  const query = readWhole(entry.line);
  if (entry.kind === 'none') return query === undefined ? [] : [`understood as ${query.kind}`];
  const subject = query === undefined && (entry.topics ?? []).length > 0;
  const asked = subject ? lineReader.readVisit(entry.line) : asVisit(query);
  if (!asked) return [`understood as ${query?.kind ?? 'nothing'}`];
  const may = mayOf(entry);
  return [
    ...personFaults(entry, asked, may),
    ...readingFaults(entry, asked),
    ...signFaults(entry, asked, may),
    ...supportFaults(entry, asked, may),
    ...calculationFaults(entry, asked),
    ...wordFaults(entry, asked),
    ...seriesFaults(entry, asked),
    ...pageFaults(entry, asked),
  ];
}
