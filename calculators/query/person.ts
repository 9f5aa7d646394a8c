/** Whose line it is: disease, age, height, sex, a child or not. */

import { adulthood, isChild, type Sex } from '../domain/age-and-sex.ts';
import { type Disease, diseaseNames, isAcute } from '../domain/person.ts';
import type { AskedPerson } from './asked.ts';
import { type Concept, phrase, takeConcepts } from './concepts.ts';
import {
  adultDiseases,
  childWords,
  diseaseWords,
  durationAfter,
  durationBefore,
  grownWords,
  heightWords,
  infantWords,
  pressureWords,
  sexWords,
} from './query-words.ts';
import { type Scanner, type Taken, whole } from './text.ts';

export type About =
  | { kind: 'disease'; disease: Disease }
  | { kind: 'sex'; sex: Sex }
  | { kind: 'child' }
  | { kind: 'grown' };

const diseaseTable = diseaseWords.map(([words, disease]) => ({
  pattern: phrase(words),
  what: { kind: 'disease', disease } as About,
}));

export const takeDiseases = (scan: Scanner): Concept<About>[] => takeConcepts(scan, diseaseTable);

const whoTable: { pattern: RegExp; what: About; also?: RegExp }[] = [
  ...sexWords.map(([words, sex]) => ({ pattern: phrase(words), what: { kind: 'sex', sex } as About })),
  { pattern: phrase(childWords), what: { kind: 'child' } },
  { pattern: phrase(grownWords), what: { kind: 'grown' } },
];

/** 'boy' says two things: each word is left for the next row, and taken at the end. */
export function takeWho(scan: Scanner): Concept<About>[] {
  const found = whoTable.flatMap(({ pattern, what }) =>
    [...scan.rest.matchAll(new RegExp(pattern.source, 'g'))].map((match) => ({
      at: match.index,
      end: match.index + match[0].length,
      typed: match[0],
      what,
    })),
  );
  for (const { at, end } of found) scan.cut(at, end);
  return found;
}

// ---- age -------------------------------------------------------------------------------------------------------------------

export interface AgeTyped extends Taken {
  years: number;
  /** what was read into it, for the reader */
  assumed?: string;
}

export interface Ages {
  age: AgeTyped | undefined;
  /** how long something has been, which is no age */
  durations: Taken[];
}

const number = String.raw`(?<![\d.,/-])(\d{1,3})`;
const surely = [
  { pattern: new RegExp(`${number}[- ]?(?:years?|yrs?|y)[- ]olds?(?![a-z])`), per: 1 },
  { pattern: new RegExp(`${number} ?(?:yo|y\\/o|y o)(?=[fm]?(?![a-z]))`), per: 1 },
  { pattern: /\baged? (?:of )?(\d{1,3})(?: ?(?:years?|yrs?|y))?(?![\d.,a-z])/, per: 1 },
  { pattern: new RegExp(`${number}[- ]?(?:months?|mths?|mo)[- ]olds?(?![a-z])`), per: 12 },
  { pattern: new RegExp(`${number}[- ]?(?:weeks?|wks?)[- ]olds?(?![a-z])`), per: 52 },
  { pattern: new RegExp(`${number}[- ]?days?[- ]olds?(?![a-z])`), per: 365 },
] as const;
const maybe = [
  { pattern: `${number} ?(?:years?|yrs?|y)(?![a-z/])`, per: 1 },
  { pattern: `${number} ?(?:months?|mths?)(?![a-z])`, per: 12 },
  { pattern: `${number} ?(?:weeks?|wks?)(?![a-z])`, per: 52 },
] as const;
const childAge = new RegExp(`(?<=\\b(?:${childWords.source}) )(\\d|1[0-7])(?![\\d.,]| ?[%a-z])`);

/**
 * @param young  the line speaks of a child, so that months and weeks are an age
 * @param countsDays  a measure of the line is itself a number of days or months
 */
export function takeAge(scan: Scanner, diseases: readonly Disease[], young: boolean, countsDays = false): Ages {
  const age = explicitAge(scan);
  if (countsDays) return { age, durations: [] };
  const durations: Taken[] = takeDurations(scan, true);
  const offered = age ?? offeredAge(scan, diseases, young);
  return { age: offered, durations: [...durations, ...takeDurations(scan, false)] };
}

function explicitAge(scan: Scanner): AgeTyped | undefined {
  for (const { pattern, per } of surely) {
    const match = pattern.exec(scan.rest);
    const years = Number(match?.[1]) / per;
    // The letter after it says the sex, and is read there.
    if (match && years <= 120) return { ...scan.cut(match.index, match.index + match[0].length), years };
  }
  const match = childAge.exec(scan.rest);
  return match ? { ...scan.cut(match.index, match.index + match[0].length), years: Number(match[1]) } : undefined;
}

function offeredAge(scan: Scanner, diseases: readonly Disease[], young: boolean): AgeTyped | undefined {
  const adult = diseases.some((disease) => adultDiseases.includes(disease));
  for (const { pattern, per } of maybe) {
    const match = new RegExp(pattern).exec(scan.rest);
    if (!match) continue;
    const years = Number(match[1]) / per;
    if (years > 120 || (adult && years < 16) || (per === 52 && !young)) continue;
    const taken = scan.cut(match.index, match.index + match[0].length);
    return { ...taken, years, ...(!isChild(years) || young ? {} : { assumed: `age ${ageWords(years)}?` }) };
  }
  return undefined;
}

const span = String.raw`(?:(?:the )?(?:last|past) )?\d+(?:[.,]\d+)? ?(?:years?|yrs?|y|months?|mths?|weeks?|wks?|days?)(?![a-z])`;
const spans = {
  told: new RegExp(
    `(?<![a-z])(?:${durationBefore.source}) (?:about |nearly )?${span}(?: (?:${durationAfter.source})(?![a-z]))?|(?<![\\d.,/-])${span} (?:${durationAfter.source})(?![a-z])`,
  ),
  bare: new RegExp(`(?<![\\d.,/-])${span}`),
};

/** 'over 6 months', '3 months ago'; with `told` off, any length of time that is left. What it follows stays in the line. */
function takeDurations(scan: Scanner, told: boolean): Taken[] {
  const found: Taken[] = [];
  const pattern = told ? spans.told : spans.bare;
  for (let match = pattern.exec(scan.rest); match; match = pattern.exec(scan.rest)) {
    const lead = /^(?:niv|bi-?level|ventilator|vent|oxygen|o2|peg) /.exec(match[0])?.[0].length ?? 0;
    found.push(scan.cut(match.index + lead, match.index + match[0].length));
  }
  return found;
}

export const ageWords = (years: number): string =>
  years >= 2 ? `${years} years` : years === 0 ? 'under 1 year' : `${Math.round(years * 12)} months`;

export const saysYoung = (text: string): boolean => phrase(childWords).test(text);
const infants = phrase(infantWords);

// ---- height ----------------------------------------------------------------------------------------------------------------

export interface HeightTyped extends Taken {
  cm: number;
  assumed?: string;
}

const decimal = (text: string | undefined): number => Number((text ?? '').replace(',', '.'));
const sane = (cm: number): boolean => cm >= 40 && cm <= 230;

export function takeHeight(scan: Scanner): HeightTyped | undefined {
  const feet =
    /(?:\b(?:height|ht) )?(?<![\d.,])([3-7]) ?(?:ft|feet|foot)(?: ?(\d{1,2})(?: ?(?:in(?:ch(?:es)?)?)(?![a-z]))?)?(?![\d.,])/.exec(
      scan.rest,
    );
  if (feet) return cutHeight(scan, feet, (Number(feet[1]) * 12 + Number(feet[2] ?? 0)) * 2.54);
  const named = whole(
    `(?:${heightWords.source})(?: is| of)? (\\d+(?:[.,]\\d+)?) ?(cms?|m|met(?:re|er)s?|in|inch(?:es)?)?`,
  ).exec(scan.rest);
  if (named) {
    const value = decimal(named[1]);
    const unit = named[2] ?? (value <= 2.3 ? 'm' : value >= 100 ? 'cm' : '');
    const cm = unit.startsWith('in') ? value * 2.54 : unit.startsWith('m') ? value * 100 : unit === '' ? 0 : value;
    return sane(cm) ? cutHeight(scan, named, cm) : undefined;
  }
  const metres = /(?<![\d.,])([12][.,]\d{1,2}) ?m(?![a-z])/.exec(scan.rest);
  if (metres && sane(decimal(metres[1]) * 100) && decimal(metres[1]) < 2.3)
    return guessed(scan, metres, decimal(metres[1]) * 100);
  const afterPressure = new RegExp(`(?<![a-z0-9])(?:${pressureWords.source})(?![a-z0-9])[^\\d;]*$`);
  for (const match of scan.rest.matchAll(
    /(?<![\d.,-])(\d{2,3}(?:[.,]\d)?) ?cms?(?! ?(?:h2o|of water|water|w)(?![a-z]))(?![a-z\d])/g,
  )) {
    if (
      afterPressure.test(scan.text.slice(0, match.index)) ||
      /(?:ulna\w*|height|span|length|circumference)[^\d;]*$/.test(scan.text.slice(0, match.index))
    )
      continue;
    if (decimal(match[1]) >= 100 && sane(decimal(match[1]))) return guessed(scan, match, decimal(match[1]));
  }
  return undefined;
}

const cutHeight = (scan: Scanner, match: RegExpExecArray, cm: number): HeightTyped => ({
  ...scan.cut(match.index, match.index + match[0].length),
  cm: Math.round(cm * 100) / 100,
});

const guessed = (scan: Scanner, match: RegExpExecArray, cm: number): HeightTyped => ({
  ...cutHeight(scan, match, cm),
  assumed: `height ${Math.round(cm)} cm`,
});

// ---- together --------------------------------------------------------------------------------------------------------------

export interface PersonSaid {
  person: AskedPerson;
  child: boolean;
  grown: boolean;
  assumed: string[];
  /** words that name someone and were not used: a disease that is not theirs, 'not male' */
  unused: Taken[];
}

export function personSaid(
  concepts: readonly Concept<About>[],
  ages: Ages,
  height: HeightTyped | undefined,
): PersonSaid {
  const person: AskedPerson = {};
  const assumed = [ages.age?.assumed, height?.assumed].filter((words) => words !== undefined);
  const unused: Taken[] = concepts.filter(({ negated, what }) => negated && what.kind !== 'child');
  const said = concepts.filter(({ negated }) => !negated);
  if (ages.age) person.ageYears = ages.age.years;
  else if (said.some(({ typed }) => infants.test(typed))) {
    person.ageYears = 0;
    assumed.push('under 1 year');
  }
  if (height) person.heightCm = height.cm;
  const sexes = new Set(said.flatMap(({ what }) => (what.kind === 'sex' ? [what.sex] : [])));
  const [sex] = sexes;
  // Two sexes in one line, or one that was denied: whoever is in hand must not lend theirs.
  if (sexes.size === 1) person.sex = sex;
  else if (sexes.size > 1 || concepts.some(({ what, negated }) => negated && what.kind === 'sex'))
    person.sex = undefined;
  addDisease(person, said, assumed, unused);
  const child =
    person.ageYears === undefined ? said.some(({ what }) => what.kind === 'child') : isChild(person.ageYears);
  const adult = person.disease !== undefined && adultDiseases.includes(person.disease);
  const grown =
    !child && (said.some(({ what }) => what.kind === 'grown') || !isChild(person.ageYears ?? (adult ? adulthood : 0)));
  if (child) person.child = true;
  // A grown-up was named: the age of a child who is still in hand must not be lent to this line.
  if (person.ageYears === undefined && !child && said.some(({ what }) => what.kind === 'sex' || what.kind === 'grown'))
    person.ageYears = undefined;
  return { person, child, grown, assumed, unused };
}

/** Of two diseases the acute one, which has an urgent page; else the first. The other is named as not used. */
function addDisease(person: AskedPerson, said: readonly Concept<About>[], assumed: string[], unused: Taken[]): void {
  const named = said.flatMap((concept) =>
    concept.what.kind === 'disease' ? [{ concept, disease: concept.what.disease }] : [],
  );
  const chosen = named.find(({ disease }) => isAcute(disease)) ?? named[0];
  if (!chosen) return;
  person.disease = chosen.disease;
  const others = named.filter(({ disease }) => disease !== chosen.disease);
  unused.push(...others.map(({ concept }) => concept));
  if (others.length > 0) assumed.push(`${diseaseNames[chosen.disease]}, of the diseases named`);
}
