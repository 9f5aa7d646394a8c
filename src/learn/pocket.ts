/** What the pocket sheets print: all of it taken from the data, so that a sheet and its page always agree. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { visitParts } from '../../calculators/domain/visit-parts.ts';
import { comparison, roundedBeside, withUnit } from '../../calculators/evaluate/say.ts';
import { convert, show, type UnitCode, units } from '../../calculators/quantity.ts';
import { criteria, decisions, evidence, measures, need, sources } from '../evidence/evidence.ts';
import { leadsOnSheet, type Sheet, type SheetPart, sheetParts } from './pocket-criteria.ts';

export { criteriaSheets } from './pocket-criteria.ts';

/** A sheet's criteria under the decisions they belong to, urgent ones first. */
export const partsOf = (sheet: Sheet): SheetPart[] => sheetParts(sheet, { ...evidence, decisions, sources });

const errorOf = { low: 'lower', high: 'raise', either: 'raise or lower' };

/** How each reading is taken and which way it errs, in the order of a visit; those whose ways of going wrong are known. */
export const techniques = Object.values(measures)
  .flatMap((measure) =>
    measure.kind === 'number' && !measure.sheetOnly && measure.how && measure.flags.length > 0 ? [measure] : [],
  )
  .sort((a, b) => visitParts.indexOf(a.part) - visitParts.indexOf(b.part) || a.label.localeCompare(b.label, 'en'))
  .map(({ label, unit, how, flags }) => ({
    label,
    unit: units[unit].symbol,
    how,
    errs: (['low', 'high', 'either'] as const).flatMap((way) => {
      const found = flags
        .filter((flag) => flag.reads === way)
        .map((flag) => flag.label.charAt(0).toLowerCase() + flag.label.slice(1));
      return found.length > 0 ? [`Can ${errorOf[way]} the reading: ${found.join('; ')}`] : [];
    }),
  }));

export interface Conversion {
  title: string;
  columns: readonly string[];
  rows: string[][];
}

const figures = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, at) => from + at * step);

/** Thresholds of carbon dioxide in either unit: a converted value is never rounded onto the wrong side of one. */
const co2Thresholds = criteria.filter(
  (row) => leadsOnSheet(row) && row.measure === 'paco2' && typeof row.value === 'number' && row.unit !== undefined,
) as (Criterion & { value: number; unit: UnitCode })[];

function converted(value: number, from: UnitCode, to: UnitCode, digits: number): string {
  const convertedValue = convert(value, from, to);
  const near = co2Thresholds.find((row) => row.unit === to && Math.abs(convertedValue - row.value) < 0.05);
  return near === undefined
    ? show(convertedValue, to, digits)
    : withUnit(roundedBeside(convertedValue, near.value, digits), to);
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

/** Those thresholds in both units, with as many digits as keep each on its own side of the other. */
export const thresholdConversions: string[] = co2Thresholds.map((row) => {
  const other: UnitCode = row.unit === 'kPa' ? 'mm[Hg]' : 'kPa';
  return `${need(sources, row.source, 'sources.yaml').short}: PaCO2 ${comparison(row, measures[row.measure])}. That number is ${converted(row.value, row.unit, other, 1)}`;
});
