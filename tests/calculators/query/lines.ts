/** A corpus of typed lines, and what a line is understood to say in the same form. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { emptyVisit } from '../../../calculators/query/asked.ts';
import { visitOfReading } from '../../../calculators/query/read-line.ts';
import {
  type AskedReading,
  type AskedSum,
  type AskedVisit,
  type Query,
  reader,
  type SeriesTold,
  vocabularyOf,
} from '../../../calculators/query/read-query.ts';
import { readWordContent } from '../../read-content.ts';
import { measures } from '../evaluate/setup.ts';

export interface Line {
  line: string;
  kind?: 'sum' | 'ask' | 'hint' | 'none';
  disease?: string;
  age?: number;
  sex?: string;
  height?: number;
  child?: boolean;
  readings?: string[];
  present?: string[];
  absent?: string[];
  supports?: Record<string, string>;
  others?: string[];
  asks?: string[];
  dangers?: string[];
  assumed?: string[];
  understood?: string[];
  not?: string[];
  series?: string[];
  falls?: string[];
  asleep?: string[];
  asked?: string[];
  topics?: string[];
  duration?: number;
  wishes?: string[];
  hint?: string;
}

/** What older corpora do not name. */
const laterFields = ['series', 'falls', 'asleep', 'asked', 'topics', 'duration', 'wishes'] as const;

export const linesOf = (file: string): Line[] => parse(readFileSync(`tests/reference/${file}.yaml`, 'utf8'));

export const vocabulary = vocabularyOf(readWordContent());
export const lineReader = reader(measures, vocabulary);
export const { read, topics } = lineReader;

const words = (list: readonly string[]): string[] => list.flatMap((one) => String(one).split(' ')).sort();
const short = (value: number): number => Math.round(value * 100) / 100;
const over = (months: number | undefined): string => (months === undefined ? '' : ` over ${short(months)} months`);
const round = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.round(value * 1000) / 1000;

export const readingWords = ({ measure, reading }: Pick<AskedReading, 'measure' | 'reading'>): string =>
  [
    measure,
    reading.from ? short(reading.value) : reading.value,
    reading.unit,
    reading.gas,
    reading.posture,
    reading.method,
    ...(reading.flags ?? []).map((flag) => `+${flag}`),
  ]
    .filter((part) => part !== undefined)
    .join(' ');

export const seriesWords = ({ measure, values, unit, overMonths }: SeriesTold): string =>
  `${measure} ${values.join(' ')} ${unit}${over(overMonths)}`;

const optionWords = (option: AskedReading | AskedSum): string =>
  option.kind === 'sum' ? option.title : readingWords(option);

/** A query as a visit, whatever its kind. */
export function asVisit(query: Query): AskedVisit | undefined {
  if (query?.kind === 'visit') return query;
  if (query?.kind === 'reading') return visitOfReading(query);
  const [first] = query?.kind === 'ask' ? query.options : [];
  return first && query?.kind === 'ask'
    ? { ...emptyVisit, person: first.person, asks: [query], assumed: first.assumed, notUnderstood: first.unused }
    : undefined;
}

/** What a line says, in the corpus's own form; empty parts left out. */
export function said(
  line: string,
): Omit<Line, 'line' | 'assumed' | 'understood' | 'hint'> & { assumes: string; understands: string; hints: string } {
  const query = read(line);
  const visit = query?.kind === 'ask' && query.options[0]?.kind === 'sum' ? undefined : asVisit(query);
  const about = topics(line).map(({ id }) => id);
  if (!visit)
    return {
      kind: (query?.kind ?? 'none') as NonNullable<Line['kind']>,
      ...(about.length > 0 ? { topics: about } : {}),
      assumes: '',
      understands: '',
      hints: '',
    };
  const { person, signs } = visit;
  const having = (sign: string) => Object.entries(signs).flatMap(([id, is]) => (is === sign ? [id] : []));
  const all = {
    disease: person.disease,
    age: round(person.ageYears),
    sex: person.sex,
    height: person.heightCm,
    child: person.ageYears === undefined ? person.child : undefined,
    readings: Object.entries(visit.readings)
      .map(([measure, reading]) => readingWords({ measure, reading } as AskedReading))
      .sort(),
    present: having('present').sort(),
    absent: having('absent').sort(),
    supports: visit.supports as Record<string, string>,
    others: visit.others.map(({ label, typed }) => `${label} ${typed}`).sort(),
    asks: visit.asks.flatMap(({ options }) => options.map(optionWords)).sort(),
    dangers: visit.dangers.map(({ page }) => page),
    not: words(visit.notUnderstood),
    series: (visit.series ?? []).map(seriesWords),
    falls: (visit.falls ?? []).map(({ measure, by, unit, overMonths }) =>
      `${measure ?? ''} ${by} ${unit}${over(overMonths)}`.trim(),
    ),
    asleep: (visit.asleep ?? []).map((one) => readingWords(one)),
    asked: words(visit.asked ?? []),
    topics: about,
    wishes: [...visit.wishes],
    duration: visit.duration && short(visit.duration.months),
  };
  return {
    ...(Object.fromEntries(
      Object.entries(all).filter(
        ([, value]) => value !== undefined && (typeof value !== 'object' || Object.keys(value).length > 0),
      ),
    ) as Omit<Line, 'line'>),
    assumes: visit.assumed.join('; '),
    understands: visit.understood.join('; '),
    hints: visit.hints.map(({ say }) => say).join('; '),
  };
}

/** The expected form of a corpus entry. */
export function expected({
  line: _,
  assumed: __,
  understood: ___,
  hint: ____,
  not,
  asked,
  ...rest
}: Line): Omit<Line, 'line'> {
  const sorted = Object.fromEntries(
    Object.entries(rest).map(([key, value]) => [key, Array.isArray(value) ? [...value].sort() : value]),
  );
  return {
    ...sorted,
    ...(not && not.length > 0 ? { not: words(not) } : {}),
    ...(asked && asked.length > 0 ? { asked: words(asked) } : {}),
  };
}

/** What is wrong with how a line is understood; nothing where it is right. */
/** @param whole  also the fields that older corpora do not name */
export function wrong(entry: Line, whole = false): string[] {
  const { assumes, understands, hints, ...is } = said(entry.line);
  if (!whole) for (const field of laterFields) delete is[field];
  const should = expected(entry);
  const keys = new Set([...Object.keys(is), ...Object.keys(should)]) as Set<keyof typeof should>;
  return [
    ...[...keys].flatMap((key) => {
      const [got, want] = [is, should].map((one) => JSON.stringify(one[key as keyof typeof one]));
      return got === want ? [] : [`${key}: ${got} instead of ${want}`];
    }),
    ...(entry.assumed ?? [])
      .filter((one) => !assumes.includes(one))
      .map((one) => `"${one}" is not among the assumed: ${assumes}`),
    ...(entry.hint === undefined || hints.includes(entry.hint) ? [] : [`"${entry.hint}" is not hinted: ${hints}`]),
    ...(entry.understood ?? [])
      .filter((one) => !understands.includes(one))
      .map((one) => `"${one}" is not among the understood: ${understands}`),
  ];
}
