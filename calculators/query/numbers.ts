/** The numbers of a line: blood gases in their usual order, labelled numbers that are no measure, and quantities with units. */
import type { UnitCode } from '../quantity.ts';
import type { Hint, Other } from './asked.ts';
import type { Name } from './names.ts';
import { cutAll, type Scanner, type Taken, takeAll } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

export interface Typed extends Taken {
  value: number;
  unit: UnitCode | undefined;
}

const decimal = (text: string): number => Number(text.replace(',', '.'));
const phOf = (typed: string): Other => ({ label: 'pH', typed, value: decimal(typed) });

/** pH, carbon dioxide and bicarbonate, as they stand in a report. */
export interface GasRow {
  at: number;
  ph: string;
  co2: Typed | undefined;
  bicarbonate: Typed | undefined;
  others: Other[];
  /** numbers whose place in the row does not say what they are */
  unused: string[];
  assumed: string[];
}

const ph = String.raw`(?<![\d.,/])(6[.,][89]\d?|7[.,][0-7]\d{0,2})`;
const patterns = madeOnce(({ numbers, manner, units, others, changes, phrase, filled }) => {
  const next = `(-?\\d+(?:[.,]\\d+)?)(?: ?(?:${numbers.gasUnits}))?(?![\\d.,]|[a-z])`;
  const label = `(?:(?<![a-z0-9])(?:${numbers.gasRow})(?: of| is)?(?: ph)? )?`;
  const twoDecimals = '(?<![\\d.,/])(6[.,][89]\\d|7[.,][0-7]\\d\\d?)';
  const changed = changes.map(({ words }) => words).join('|');
  const anyUnit = units.map(({ words }) => filled(words)).join('|');
  return {
    slashed: new RegExp(`${label}${ph}((?: ?\\/ ?${next}){2,4})`),
    /** two numbers only where the first has two decimals: '7.5/10' is something else */
    pair: new RegExp(`${label}${twoDecimals}( ?\\/ ?${next})(?! ?\\/)`),
    spaced: new RegExp(`${label}${twoDecimals}((?:(?: ; | )${next}){2,4})(?! ?(?:[%/]|l(?![a-z])|kg))`),
    /** after the name of a gas, two numbers are enough: 'abg 7.31 62' */
    named: new RegExp(
      `(?<![a-z0-9])(?:${numbers.gasRow})(?: (?:${numbers.gasThen}))* ${twoDecimals}((?: ; | )${next})(?!(?: ; | | ?/ ?)-?\\d| ?(?:${filled('YEARS')}|y[ /]?o|[mf])(?![a-z]))`,
    ),
    gasName: phrase(numbers.gasRow),
    units: units.map(({ words, unit }) => ({
      unit,
      pattern: new RegExp(`^ ?(?:${filled(words)})${words.includes('%') ? '' : '(?![a-z])'}`),
    })),
    labelled: others.map(({ words, label: name }) => ({
      name,
      pattern: new RegExp(
        `(?<![a-z0-9])(?:${words})(?: (?:is|of|at|was))? ?(-?\\d+(?:[.,]\\d+)?(?: ?\\/ ?\\d+)?(?: ?(?:${numbers.otherUnits})(?![a-z0-9]))?)(?![\\d.,])`,
      ),
    })),
    doses: new RegExp(`(?<![\\d.,/a-z-])(?<!(?:${numbers.notDoseAfter}) -?)(?:${filled(numbers.doses)})(?![a-z0-9])`),
    earlier: new RegExp(
      `(?<![a-z0-9])(?:(?:${changed}|${manner.earlier}) )?from -?\\d+(?:[.,]\\d+)?(?: ?(?:${anyUnit})(?![a-z]))?`,
    ),
    tens: new RegExp(`(?<![\\d.,a-z])(?:(?:${manner.tens}) )*[1-9]0 ?s(?![a-z])`),
    halves: phrase(numbers.halves),
    lost: phrase(numbers.lost),
    asides: phrase(`(?:${numbers.asides}) ?\\d+(?:[.,]\\d+)?`),
    ordinals: new RegExp(`(?<![\\d.,a-z])\\d+(?:${numbers.ordinals})(?![a-z])`),
    points: new RegExp(`(?<![\\d.,a-z])\\d+(?:[.,]\\d+)? ?(?:% )?(?:${numbers.points})(?![a-z])`),
    compared: phrase(`${manner.threshold}|${manner.compared}`),
    threshold: phrase(manner.threshold),
    comparedWith: new RegExp(`(?<![a-z0-9])(?:${manner.compared}) ?-?\\d+(?:[.,]\\d+)?`),
  };
});

export function takeGasRow(scan: Scanner): GasRow | undefined {
  const { slashed, pair, spaced, named } = patterns(scan.words);
  const match = slashed.exec(scan.rest) ?? pair.exec(scan.rest) ?? spaced.exec(scan.rest) ?? named.exec(scan.rest);
  if (!match) return undefined;
  const { at } = scan.cut(match.index, match.index + match[0].length);
  const values = (match[2] ?? '').match(/-?\d+(?:[.,]\d+)?/g) ?? [];
  const [co2, third, fourth, ...more] = values;
  const typed = (text: string, unit: UnitCode): Typed => ({ at, end: at, typed: text, value: decimal(text), unit });
  // Below 15 nobody reports mmHg, and above it nobody kPa.
  const carbon = co2 === undefined ? undefined : typed(co2, decimal(co2) < 15 ? 'kPa' : 'mm[Hg]');
  const row: GasRow = {
    at,
    ph: match[1] ?? '',
    co2: carbon,
    bicarbonate: undefined,
    others: [phOf(match[1] ?? '')],
    unused: more,
    assumed: [],
  };
  const bicarbonate = fourth ?? (third !== undefined && isBicarbonate(decimal(third), carbon) ? third : undefined);
  if (bicarbonate !== undefined && isBicarbonate(decimal(bicarbonate), carbon))
    row.bicarbonate = typed(bicarbonate, 'mmol/L');
  else if (bicarbonate !== undefined) row.unused.unshift(bicarbonate);
  if (third !== undefined && third !== bicarbonate)
    row.others.push({ label: 'PaO2', typed: third, value: decimal(third) });
  if (carbon?.unit === 'kPa' && !/[a-z]/.test(match[2] ?? ''))
    row.assumed.push(`carbon dioxide ${carbon.typed} in kPa`);
  row.assumed.push(
    `in the order pH, PaCO2, ${row.others.length > 1 ? 'PaO2' : ''}${row.others.length > 1 && row.bicarbonate ? ', ' : ''}${row.bicarbonate ? 'bicarbonate' : ''}`.replace(
      /, $/,
      '',
    ),
  );
  return row;
}

/** A third number can be bicarbonate or oxygen: in kPa an oxygen is small, in mmHg large. */
const isBicarbonate = (value: number, carbon: Typed | undefined): boolean =>
  value >= (carbon?.unit === 'kPa' ? 18 : 8) && value <= 50;

const couldBePh = /(?<![\d.,/-])(6[.,][89]\d?|7[.,][0-7]\d?)(?![\d.,]| ?[%/])/g;

/**
 * 'abg 7.31', and any other number with two decimals that can be a pH, has no unit and follows no other name. With one
 * decimal after 'abg' it can be a carbon dioxide in kPa as well: the reader is asked to say which.
 */
export function takeLonePh(scan: Scanner, names: Name[]): { others: Other[]; hints: Hint[]; assumed: string[] } {
  const { units, gasName } = patterns(scan.words);
  const found = { others: [] as Other[], hints: [] as Hint[], assumed: [] as string[] };
  for (const match of scan.rest.matchAll(couldBePh)) {
    const typed = match[0];
    const end = match.index + typed.length;
    if (units.some(({ pattern }) => pattern.test(scan.rest.slice(end)))) continue;
    const name = names.findLast(
      (one) =>
        /^ ?(?:of |is |was )?$/.test(scan.rest.slice(one.end, Math.max(one.end, match.index))) &&
        one.end <= match.index,
    );
    const isGas = name !== undefined && gasName.test(name.typed) && !/co2/.test(name.typed);
    if (name !== undefined && !isGas) continue;
    const decimals = typed.split(/[.,]/)[1]?.length ?? 0;
    if (decimals < 2 && !isGas) continue;
    scan.cut(match.index, end);
    if (name !== undefined) names.splice(names.indexOf(name), 1);
    if (decimals < 2) {
      found.hints.push({
        kind: 'hint',
        say: `${typed} can be a pH or a carbon dioxide in kPa. Type \u201cph ${typed}\u201d or \u201cco2 ${typed} kpa\u201d`,
      });
    } else {
      found.others.push(phOf(typed));
      found.assumed.push(`${typed} is a pH`);
    }
  }
  return found;
}

export function takeOthers(scan: Scanner): Other[] {
  // 'co2 6.8 ph 7.33': the number before is another's.
  const reversed = new RegExp(`${ph} ?ph(?![a-z0-9]| ?(?:of |is |was )?\\d)`).exec(scan.rest);
  const found: Other[] = [];
  if (reversed) {
    scan.cut(reversed.index, reversed.index + reversed[0].length);
    found.push(phOf(reversed[1] ?? ''));
  }
  for (const { name, pattern } of patterns(scan.words).labelled)
    for (const match of takeAll(scan, pattern)) {
      const typed = (match[1] ?? '').trim();
      found.push({ label: name, typed, value: decimal(/-?\d+(?:[.,]\d+)?/.exec(typed)?.[0] ?? '') });
    }
  return found;
}

/** A number right before 'mg' is a dose, unless it stands right after a test. */
export const takeDoses = (scan: Scanner): Taken[] => cutAll(scan, patterns(scan.words).doses);

/** 'down from 70', 'fell from 95 to 84': the value before, which is neither today's nor a fall. */
export const takeEarlier = (scan: Scanner): Typed[] =>
  cutAll(scan, patterns(scan.words).earlier).map((one) => {
    const match = /-?\d+(?:[.,]\d+)?/.exec(one.typed);
    const after = one.typed.slice((match?.index ?? 0) + (match?.[0].length ?? 0));
    const unit = patterns(scan.words).units.find(({ pattern }) => pattern.test(after))?.unit;
    return { ...one, value: decimal(match?.[0] ?? ''), unit };
  });

const weightsTold = new Set(['usual-weight', 'weight-loss-percent']);

/** 'lost 8 kg': no share of a weight is known without the weight itself. */
export function lostWeight(doses: readonly Taken[], names: readonly Name[], words: Vocabulary): Hint[] {
  const lost = doses.find(({ typed }) => patterns(words).lost.test(typed));
  const told = names.some(({ measures }) => measures.some((id) => weightsTold.has(id)));
  if (lost === undefined || told) return [];
  return [
    {
      kind: 'hint',
      say: `\u201c${lost.typed}\u201d: a loss of weight is compared in per cent. Type both weights, such as \u201cusual weight 70 kg, weight 62 kg\u201d`,
      page: '/measuring/weight/',
    },
  ];
}

export const saysHalf = (text: string, words: Vocabulary): boolean => patterns(words).halves.test(text);

/** 'fvc about half': right after a test, and no number that could be compared. */
export function takeHalves(scan: Scanner, names: readonly Name[]): Hint[] {
  return cutAll(scan, patterns(scan.words).halves)
    .filter(({ at }) => names.some(({ end }) => end <= at && /^ ?$/.test(scan.text.slice(end, at))))
    .map(({ typed }) => ({
      kind: 'hint',
      say: `\u201c${typed}\u201d does not say of what. Type the value itself, such as \u201cfvc 52 %\u201d or \u201cfvc 1.9 l\u201d`,
    }));
}

/** 'dropped 12 points': a fall in points of per cent, which no measure holds. */
export const takePoints = (scan: Scanner): Taken[] => cutAll(scan, patterns(scan.words).points);

/** 'sats 80s': no number that could be compared. */
export const takeTens = (scan: Scanner): Hint[] =>
  cutAll(scan, patterns(scan.words).tens).map(({ typed }) => ({
    kind: 'hint',
    say: `\u201c${typed}\u201d is not one number. Type the lowest one seen`,
  }));

/** 'day 4', '25.11.2026', '120/80', '20/8', '3rd'. */
export const takeAsides = (scan: Scanner): Taken[] => [
  ...cutAll(scan, /(?<![\d.])\d{1,4}[./-]\d{1,2}[./-]\d{2,4}(?![\d.])/),
  ...cutAll(scan, patterns(scan.words).asides),
  ...cutAll(scan, /(?<![\d.,a-z])\d+(?:[.,]\d+)? ?\/ ?\d[\d/]*/),
  ...cutAll(scan, patterns(scan.words).ordinals),
];

/** 'cut-off': none of the line's numbers is a reading. */
export const asksThreshold = ({ text, words }: Scanner): boolean => patterns(words).threshold.test(text);

/** The number of a threshold that is looked for: 'below 50'. */
export const takeCompared = (scan: Scanner): Taken[] => [
  ...cutAll(scan, patterns(scan.words).comparedWith),
  ...cutAll(scan, patterns(scan.words).compared),
];

/** Quantities with the unit that follows, and what looks like a number and is none. */
export function takeQuantities(scan: Scanner): { quantities: Typed[]; strange: Taken[] } {
  const quantities: Typed[] = [];
  const strange: Taken[] = [];
  const { units } = patterns(scan.words);
  const number = /(?<![a-z\d.,])[-+]?\d+(?:[.,]\d+)?(?![\d])/;
  for (let match = number.exec(scan.rest); match; match = number.exec(scan.rest)) {
    const from = match.index + match[0].length;
    const after = scan.rest.slice(from);
    const unit = units.find(({ pattern }) => pattern.test(after));
    const told = unit?.pattern.exec(after)?.[0] ?? '';
    const taken = scan.cut(match.index, from + told.length);
    if (unit === undefined && /^[a-z]/.test(after)) strange.push(taken);
    else quantities.push({ ...taken, value: decimal(match[0]), unit: unit?.unit });
  }
  return { quantities: quantities.sort((a, b) => a.at - b.at), strange };
}
