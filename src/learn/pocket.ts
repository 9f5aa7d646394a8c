/** What stands on the pocket sheets: all of it taken from the data, so that a sheet can never say other than its page. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { type Disease, diseaseNames, isAcute } from '../../calculators/domain/diseases.ts';
import { visitParts } from '../../calculators/domain/visit-parts.ts';
import { categoryOf } from '../../calculators/evaluate/group.ts';
import { alsoWords, besideMark, comparison, withUnit } from '../../calculators/evaluate/say.ts';
import { convert, show, type UnitCode, units } from '../../calculators/quantity.ts';
import { criteria, decisionOf, decisions, measures, need, sources } from '../evidence.ts';

/** Newest date on which a mark was read at its source. */
export const evidenceDate: string =
  criteria
    .map((row) => row.checked ?? '')
    .sort()
    .at(-1) ?? '';

interface Sheet {
  title: string;
  diseases: readonly Disease[];
  /** whether children's marks belong on it */
  children: boolean;
}

export const markSheets: Record<string, Sheet> = {
  als: { title: 'Marks: ALS and motor neurone disease', diseases: ['als'], children: false },
  dmd: { title: 'Marks: Duchenne', diseases: ['dmd'], children: true },
  sma: { title: 'Marks: spinal muscular atrophy', diseases: ['sma'], children: true },
  dm1: { title: 'Marks: myotonic dystrophy', diseases: ['dm1'], children: false },
  'other-chronic': { title: 'Marks: other slow neuromuscular disease', diseases: ['other-chronic'], children: true },
  acute: { title: 'Marks: Guillain-Barr\u00e9 and myasthenia, in hospital', diseases: ['gbs', 'mg'], children: false },
};

/** One line of a sheet: a mark in words, with everybody who publishes it. */
export interface SheetLine {
  words: string;
  /** short names of sources, with a sign for those read in a summary and for common practice */
  by: string;
}

export interface SheetPart {
  title: string;
  lines: SheetLine[];
}

const signOf: Partial<Record<Criterion['standing'], string>> = {
  'checked-in-summary': ' (s)',
  'common-practice': ' (p)',
};

const isUrgent = ({ urgency }: Criterion): boolean => urgency === 'emergency' || urgency === 'same-day';

/** What leads a page and can be read off in a doorway: numbers, and the urgent signs, an urgent warning among them. */
const onSheet = (row: Criterion): boolean =>
  row.use === 'caution' && isUrgent(row)
    ? categoryOf(row) === 'acting'
    : categoryOf(row) === 'acting' && row.use === 'decision' && (typeof row.value === 'number' || isUrgent(row));

const whenWords: Partial<Record<Criterion['urgency'], string>> = {
  emergency: 'Now: ',
  'same-day': 'Today: ',
  'within-1-week': 'Within a week: ',
};
const whenOrder: Record<Criterion['urgency'], number> = { emergency: 0, 'same-day': 1, 'within-1-week': 2, routine: 3 };

function linesOf(rows: readonly Criterion[]): SheetLine[] {
  const byWords = Map.groupBy(
    [...rows].sort((a, b) => whenOrder[a.urgency] - whenOrder[b.urgency]),
    wordsOf,
  );
  return [...byWords].map(([words, same]) => ({
    words,
    by: [
      ...new Set(same.map((row) => `${need(sources, row.source, 'sources.yaml').short}${signOf[row.standing] ?? ''}`)),
    ].join(', '),
  }));
}

function wordsOf(row: Criterion): string {
  const measure = measures[row.measure];
  const name = measure?.short ?? row.measure;
  const main = row.comparator === 'present' ? name : `${name} ${comparison(row, measure)}`;
  const who = [
    row.sex,
    row.population === 'child' && 'child',
    row.minAgeYears !== undefined && row.population !== 'child' && `from ${row.minAgeYears} years`,
  ].filter(Boolean);
  const words = [main, ...alsoWords(row, measures)].join(', ').replace(/ present\b/g, '');
  const when = whenWords[row.urgency];
  const said = when === undefined ? `${words.charAt(0).toUpperCase()}${words.slice(1)}` : `${when}${words}`;
  return `${said}${who.length > 0 ? ` (${who.join(', ')})` : ''}`;
}

/** A sheet's marks under the decisions they belong to, urgent ones first. */
export function partsOf({ diseases, children }: Sheet): SheetPart[] {
  return diseases.flatMap((disease) => {
    const acute = isAcute(disease);
    const rows = criteria.filter(
      (row) =>
        onSheet(row) &&
        (children || row.population !== 'child') &&
        (row.disease === disease ||
          (row.disease === 'any' &&
            (!acute || row.acute === true || row.urgency === 'emergency' || row.urgency === 'same-day'))),
    );
    const byDecision = [...Map.groupBy(rows, decisionOf)].sort(
      ([a], [b]) => need(decisions, a, 'decisions.yaml').order - need(decisions, b, 'decisions.yaml').order,
    );
    return byDecision.map(([decision, own]) => ({
      title: `${diseases.length > 1 ? `${diseaseNames[disease]}: ` : ''}${need(decisions, decision, 'decisions.yaml').title}`,
      lines: linesOf(own),
    }));
  });
}

/** How each reading is taken and which way it errs, in the order of a visit; those whose ways of going wrong are known. */
export const techniques = Object.values(measures)
  .flatMap((measure) => (measure.kind === 'number' && measure.how && measure.flags.length > 0 ? [measure] : []))
  .sort((a, b) => visitParts.indexOf(a.part) - visitParts.indexOf(b.part) || a.label.localeCompare(b.label, 'en'))
  .map(({ label, unit, how, flags }) => ({
    label,
    unit: units[unit].symbol,
    how,
    errs: (['low', 'high', 'either'] as const).flatMap((way) => {
      const found = flags
        .filter((flag) => flag.reads === way)
        .map((flag) => flag.label.charAt(0).toLowerCase() + flag.label.slice(1));
      return found.length > 0 ? [`${way === 'either' ? 'Either way' : `Reads ${way}`}: ${found.join('; ')}`] : [];
    }),
  }));

export interface Conversion {
  title: string;
  columns: readonly string[];
  rows: string[][];
}

const figures = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, at) => from + at * step);

/** Marks on carbon dioxide in either unit: a converted value is never rounded onto the wrong side of one. */
const co2Marks = criteria.filter(
  (row) => onSheet(row) && row.measure === 'paco2' && typeof row.value === 'number' && row.unit !== undefined,
) as (Criterion & { value: number; unit: UnitCode })[];

function converted(value: number, from: UnitCode, to: UnitCode, digits: number): string {
  const told = convert(value, from, to);
  const near = co2Marks.find((row) => row.unit === to && Math.abs(told - row.value) < 0.05);
  return near === undefined ? show(told, to, digits) : withUnit(besideMark(told, near.value, digits), to);
}

/** @param others  units and digits of the further columns */
function table(
  title: string,
  unit: UnitCode,
  decimals: number,
  values: number[],
  others: readonly (readonly [UnitCode, number])[],
): Conversion {
  return {
    title,
    columns: [unit, ...others.map(([code]) => code)].map((code) => units[code].symbol),
    rows: values.map((value) => [
      show(value, unit, decimals),
      ...others.map(([code, digits]) => converted(value, unit, code, digits)),
    ]),
  };
}

/** Worked out with the same conversions as everything else; nothing on the sheet is typed. */
export const conversions: Conversion[] = [
  table('Carbon dioxide', 'kPa', 1, figures(4.5, 10, 0.5), [['mm[Hg]', 1]]),
  table('Carbon dioxide, the other way', 'mm[Hg]', 0, figures(35, 70, 5), [['kPa', 1]]),
  table('Cough flow', 'L/s', 1, figures(1, 6, 0.5), [['L/min', 0]]),
  table('Sniff and mouth pressure', 'cm[H2O]', 0, figures(20, 80, 10), [
    ['kPa', 1],
    ['mm[Hg]', 0],
  ]),
  table('Height', 'cm', 0, figures(140, 195, 5), [['[in_i]', 1]]),
  table('Weight', 'kg', 0, figures(40, 100, 10), [['[lb_av]', 0]]),
];

/** Those marks in both units, with as many digits as keep each on its own side of the other. */
export const markConversions: string[] = co2Marks.map((row) => {
  const other: UnitCode = row.unit === 'kPa' ? 'mm[Hg]' : 'kPa';
  return `${need(sources, row.source, 'sources.yaml').short}: PaCO2 ${comparison(row, measures[row.measure])}. That number is ${converted(row.value, row.unit, other, 1)}`;
});
