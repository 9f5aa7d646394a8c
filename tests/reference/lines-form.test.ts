/** The form of the written lines: known words only, and nothing expected that the line does not say. What the reader makes of them is another test. */
import { existsSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Calculator } from '../../calculators/calculator.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import { Disease, Sex } from '../../calculators/domain/person.ts';
import { text, z } from '../../calculators/domain/schema.ts';
import { supportStatuses, wishList } from '../../calculators/domain/visit.ts';
import { convert, isUnit, type UnitCode } from '../../calculators/quantity.ts';
import { register } from '../../calculators/register.ts';
import { readDecisions, readEvidence } from '../read-content.ts';

const classes = ['negation', 'gas', 'emergency', 'slang', 'calculation', 'multi'] as const;

const words = z.optional(z.array(text).check(z.minLength(1)));
const Line = z.strictObject({
  line: text,
  class: z.enum(classes),
  disease: z.optional(Disease),
  age: z.optional(z.number().check(z.gte(0), z.lte(120))),
  sex: z.optional(Sex),
  height: z.optional(z.number().check(z.gte(50), z.lte(230))),
  child: z.optional(z.literal(true)),
  adult: z.optional(z.literal(true)),
  readings: words,
  present: words,
  absent: words,
  supports: z.optional(z.record(text, z.enum(supportStatuses))),
  others: words,
  asks: words,
  assumed: words,
  understood: words,
  not: words,
  dangers: words,
  kind: z.optional(z.enum(['sum', 'ask', 'hint', 'none'])),
  series: words,
  works: words,
  needs: words,
  refused: words,
  topics: words,
  may: words,
  why: z.optional(text),
});
type Line = z.infer<typeof Line>;

const rowsOf = (name: string): unknown[] => parse(readFileSync(`tests/reference/${name}.yaml`, 'utf8')) as unknown[];
const files = { lines: rowsOf('lines'), held: rowsOf('lines-held') };
const lines = [...files.lines, ...files.held].map((row) => row as Line);

const { measures } = readEvidence();
const decisions = readDecisions();
const calculators = new Map<string, Calculator>();
beforeAll(async () => {
  for (const [id, load] of Object.entries(register)) calculators.set(id, (await load()).default);
});

/** How a carbon dioxide or a gas was taken, where the measure names no methods of its own. A venous sample is written and not used. */
const methodWords = ['arterial', 'capillary', 'venous', 'end-tidal', 'transcutaneous'];
const conditions = ['air', 'oxygen', 'ventilation', 'upright', 'supine', ...methodWords];

const numberOf = (id: string): NumberMeasure | undefined => {
  const measure = measures[id];
  return measure?.kind === 'number' ? measure : undefined;
};

/** `<measure> <value> <unit> <conditions and +flags>` */
function readingFaults(reading: string): string[] {
  const [id = '', value = '', unit = '', ...rest] = reading.split(' ');
  const measure = numberOf(id);
  if (!measure) return [`${id} is no measure with a number`];
  if (!isUnit(unit) || ![measure.unit, ...measure.accepts].includes(unit)) return [`${id} is not read in ${unit}`];
  const [low, high] = measure.hard;
  const inOwnUnit = convert(Number(value), unit, measure.unit as UnitCode);
  return [
    ...(inOwnUnit >= low && inOwnUnit <= high ? [] : [`${id} ${value} ${unit} is outside what can be`]),
    ...rest
      .filter((word) =>
        word.startsWith('+')
          ? !measure.flags.some((flag) => flag.id === word.slice(1))
          : !conditions.includes(word) || !methodFits(measure, word),
      )
      .map((word) => `${id} knows no ${word}`),
  ];
}

const methodFits = (measure: NumberMeasure, word: string): boolean =>
  !methodWords.includes(word) || word === 'venous' || (measure.methods ?? []).includes(word);

const signFaults = (id: string): string[] => (measures[id]?.kind === 'sign' ? [] : [`${id} is no sign`]);

const supportFaults = (decision: string, status: string): string[] => [
  ...(decisions[decision] ? [] : [`${decision} is no decision`]),
  ...((supportStatuses as readonly string[]).includes(status) ? [] : [`${status} is no status of a support`]),
];

function mayFaults(may: string): string[] {
  const [kind = '', ...rest] = may.split(' ');
  const what = rest.join(' ');
  switch (kind) {
    case 'present':
    case 'absent':
      return signFaults(what);
    case 'reading':
      return readingFaults(what);
    case 'support':
      return supportFaults(rest[0] ?? '', rest[1] ?? '');
    case 'wishes':
      return (wishList as readonly string[]).includes(what) ? [] : [`${what} is no wish`];
    case 'sex':
      return Sex.safeParse(what).success ? [] : [`${what} is no sex`];
    default:
      return [`"${may}" begins with a word that is not known`];
  }
}

/** `<measure> <values> <unit> over <time>` */
function seriesFaults(series: string): string[] {
  const found = /^(\S+) ([\d. ]+) (\S+)(?: over \d+ (?:days|weeks|months|years))?$/.exec(series);
  if (!found) return [`"${series}" is no series`];
  const [, id, values, unit] = found as unknown as [string, string, string, string];
  const each = values.split(' ');
  return [
    ...(each.length > 1 ? [] : [`"${series}" has one value`]),
    ...each.flatMap((value) => readingFaults(`${id} ${value} ${unit}`)),
  ];
}

/** `<calculator> <result> <value> <unit>` */
function worksFaults(works: string): string[] {
  const [id = '', name = '', value = '', unit = ''] = works.split(' ');
  const result = calculators.get(id)?.results[name];
  if (!result) return [`${id} has no result ${name}`];
  return [
    ...(Number.isFinite(Number(value)) && value !== '' ? [] : [`${value} is no number`]),
    ...(result.unit === unit ? [] : [`${id} gives ${name} in ${result.unit}, not in ${unit}`]),
  ];
}

const refusedFaults = (refused: string): string[] => {
  const [id = '', field = ''] = refused.split(' ');
  return calculators.get(id)?.fields[field] ? [] : [`${id} has no field ${field}`];
};

const needsFaults = (need: string): string[] =>
  [...calculators.values()].some((calculator) => calculator.fields[need]) ? [] : [`no calculator asks for ${need}`];

const pageFaults = (page: string): string[] =>
  /^\/.+\/$/.test(page) && existsSync(`content/handbook${page.slice(0, -1)}.mdx`) ? [] : [`${page} is no page`];

/** A number is never expected that the line does not hold: as it stands there, with a decimal comma, without its sign or trailing zeros. */
const small = 'nought one two three four five six seven eight nine ten eleven twelve'.split(' ');
const teens = 'thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(' ');
const tens = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');
const spelled = new Map<string, number>([
  ...[...small, ...teens].map((word, at) => [word, at] as const),
  ...tens.map((word, at) => [word, (at + 2) * 10] as const),
]);
/** A number in words is the sum of its words where they stand together: 'eighty five'. */
const spelledIn = (line: string): number[] => {
  const values = line
    .toLowerCase()
    .split(/[ ,-]+/)
    .map((word) => spelled.get(word));
  return values.flatMap((value, at) => {
    const next = values[at + 1];
    if (value === undefined) return [];
    return value >= 20 && next !== undefined && next < 10 ? [value, value + next] : [value];
  });
};
const numbersIn = (line: string): number[] => [
  ...(line.replace(/(\d),(\d)/g, '$1.$2').match(/\d+(?:\.\d+)?/g) ?? []).map(Number),
  ...spelledIn(line),
];
const notInLine = ({ line, readings = [] }: Line): string[] => {
  const held = numbersIn(line);
  return readings
    .filter((reading) => !held.includes(Number(reading.split(' ')[1])))
    .map((reading) => `${reading}: the line does not hold this number`);
};

const oneOfAMeasure = (readings: readonly string[]): string[] => {
  const ids = readings.map((reading) => reading.split(' ')[0]);
  return ids.filter((id, at) => ids.indexOf(id) !== at).map((id) => `${id} stands twice`);
};

function faultsOf(line: Line): string[] {
  const signs = [...(line.present ?? []), ...(line.absent ?? [])];
  return [
    ...(line.readings ?? []).flatMap(readingFaults),
    ...oneOfAMeasure(line.readings ?? []),
    ...notInLine(line),
    ...signs.flatMap(signFaults),
    ...signs.filter((id, at) => signs.indexOf(id) !== at).map((id) => `${id} is expected twice`),
    ...Object.entries(line.supports ?? {}).flatMap(([decision, status]) => supportFaults(decision, status)),
    ...(line.asks ?? []).flatMap(readingFaults),
    ...(line.series ?? []).flatMap(seriesFaults),
    ...(line.works ?? []).flatMap(worksFaults),
    ...(line.works && !line.why ? ['a calculation without its arithmetic'] : []),
    ...(line.refused ?? []).flatMap(refusedFaults),
    ...(line.needs ?? []).flatMap(needsFaults),
    ...[...(line.topics ?? []), ...(line.dangers ?? [])].flatMap(pageFaults),
    ...(line.may ?? []).flatMap(mayFaults),
  ];
}

const plain = (line: string): string => line.toLowerCase().replace(/\s+/g, ' ').trim();

describe('the form of the written lines', () => {
  test('every key is known, every value of the kind that it should be', () => {
    const faults = lines.flatMap((line) => {
      const read = Line.safeParse(line);
      return read.success ? [] : [`${line.line}: ${JSON.stringify(read.error.issues)}`];
    });
    expect(faults).toEqual([]);
  });

  test('every id, unit and page exists, and no number is expected that the line does not hold', () => {
    expect(lines.flatMap((line) => faultsOf(line).map((fault) => `${line.line}: ${fault}`))).toEqual([]);
  });

  test('a fault in a line is found', () => {
    const line = (rest: Partial<Line>): Line => ({ line: 'sats 90', class: 'gas', ...rest });
    expect(faultsOf(line({ readings: ['spo2 90 % air'] }))).toEqual([]);
    expect(faultsOf({ ...line({ readings: ['spo2 85 %'] }), line: 'sats eighty five' })).toEqual([]);
    const bad: Partial<Line>[] = [
      { readings: ['spo2 91 %'] },
      { readings: ['spo2 90 kPa'] },
      { readings: ['spo2 90 % arterial'] },
      { readings: ['spo2 90 % +leak'] },
      { readings: ['spo2 90 %', 'spo2 90 %'] },
      { present: ['tired'] },
      { present: ['fatigue'], absent: ['fatigue'] },
      { supports: { niv: 'none' } },
      { series: ['spo2 90 %'] },
      { works: ['supine-fall fall 20 L'], why: 'a wrong unit' },
      { works: ['supine-fall fall 20 %'] },
      { refused: ['supine-fall age-years'] },
      { needs: ['colour'] },
      { topics: ['/breathing/nowhere/'] },
      { may: ['maybe fatigue'] },
    ];
    for (const rest of bad) expect(faultsOf(line(rest)), JSON.stringify(rest)).not.toEqual([]);
  });

  test('no line stands twice, here or among the lines for safety', () => {
    const all = [...lines, ...rowsOf('lines-safety'), ...rowsOf('lines-safety-held')].map((row) =>
      plain((row as Line).line),
    );
    const ours = new Set(lines.map((line) => plain(line.line)));
    expect(all.filter((line, at) => ours.has(line) && all.indexOf(line) !== at)).toEqual([]);
  });

  test('the classes are as many as were asked for', () => {
    const count = (rows: unknown[], name: string) => rows.filter((row) => (row as Line).class === name).length;
    expect(files.lines.length).toBeGreaterThanOrEqual(400);
    expect(files.held.length).toBeGreaterThanOrEqual(45);
    for (const name of classes) {
      const least = name === 'negation' ? 100 : 60;
      expect(count(files.lines, name), name).toBeGreaterThanOrEqual(least);
      expect(count(files.held, name), `${name}, set aside`).toBeGreaterThanOrEqual(least / 10);
    }
  });
});
