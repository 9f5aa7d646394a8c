/** Whose line it is: disease, age, height, sex, a child or not. */

import { adulthood, isChild, type Sex } from '../domain/age-and-sex.ts';
import { type Disease, diseaseNames, isAcute } from '../domain/diseases.ts';
import type { AskedPerson } from './asked.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import type { Scanner, Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

/** Not seen in small children: a small number of years or months beside them is how long, not how old. */
export const adultDiseases: readonly Disease[] = ['als', 'post-polio', 'sci'];

export type About =
  | { kind: 'disease'; disease: Disease }
  | { kind: 'sex'; sex: Sex }
  | { kind: 'child' }
  | { kind: 'grown' };

const tables = madeOnce(({ diseases, sexes, people, phrase }) => ({
  diseases: diseases.map(({ words, disease }) => ({
    pattern: phrase(words),
    what: { kind: 'disease', disease } as About,
  })),
  who: [
    ...sexes.map(({ words, sex, relative = false }) => ({
      pattern: phrase(words),
      what: { kind: 'sex', sex } as About,
      relative,
    })),
    { pattern: phrase(people.child), what: { kind: 'child' } as About, relative: false },
    { pattern: phrase(people.grown), what: { kind: 'grown' } as About, relative: false },
  ],
}));

export const takeDiseases = (scan: Scanner): Concept<About>[] =>
  takeConcepts(scan, tables(scan.words).diseases).map((concept) => ({ ...concept, heads: true }));

/**
 * 'boy' says two things: each word is left for the next row, and taken at the end.
 *
 * @param from  where the first disease stands: a relative named after it ('dmd 14, mum has a cold') is someone else
 */
export function takeWho(scan: Scanner, from = Number.POSITIVE_INFINITY): Concept<About>[] {
  const found = tables(scan.words).who.flatMap(({ pattern, what, relative }) =>
    [...scan.rest.matchAll(new RegExp(pattern.source, 'g'))]
      .filter(({ index }) => !relative || index < from)
      .map((match) => ({
        at: match.index,
        end: match.index + match[0].length,
        typed: match[0],
        what,
        whose: true,
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
const withDecimal = String.raw`(?<![\d.,/-])(\d{1,3}(?:[.,]\d)?)`;
const ages = madeOnce(({ people, sexes, time, units, filled }) => {
  const own = sexes.filter(({ relative }) => relative !== true);
  const anyUnit = units.map(({ words }) => words).join('|');
  const person = `${people.child}|${people.grown}|${own.map(({ words }) => words).join('|')}`;
  const as = (words: string) => new RegExp(filled(words));
  const noUnit = `(?![\\d.,/a-z-]| ?%| ?(?:${anyUnit})(?![a-z]))`;
  const span = String.raw`(?:(?:the )?(?:last|past) )?\d+(?:[.,]\d+)? ?(?:YEARS|MONTHS|WEEKS|DAYS)(?![a-z])`;
  return {
    surely: [
      { pattern: as(`${withDecimal}[- ]?(?:YEARS)[- ]olds?(?![a-z])`), per: 1 },
      { pattern: as(`${number} ?(?:yo|y\\/o|y o)(?=[fm]?(?![a-z]))`), per: 1 },
      { pattern: as(`\\baged? (?:of )?(\\d{1,3})(?: ?(?:YEARS))?(?![\\d.,a-z])`), per: 1 },
      {
        pattern: as(
          `(?<=(?:^|[;|]) ?(?:(?:THEIR) )?(?:${people.relatives}) (?:(?:${people.relativeIs}) )*)${number}${noUnit}(?! (?:${people.noAgeWith})(?![a-z]))`,
        ),
        per: 1,
      },
      {
        pattern: as(
          `(?<=(?<![a-z])(?:${people.heIs}) )([1-6]?\\d)${noUnit}(?= ?(?:[;|]|$)| [a-z])(?! (?:${people.noAgeWith})(?![a-z]))`,
        ),
        per: 1,
      },
      { pattern: as(`${number}[- ]?(?:MONTHS|mo)[- ]olds?(?![a-z])`), per: 12 },
      { pattern: as(`${number}[- ]?(?:WEEKS)[- ]olds?(?![a-z])`), per: 52 },
      { pattern: as(`${number}[- ]?(?:DAYS)[- ]olds?(?![a-z])`), per: 365 },
    ],
    /** '12y3m' */
    yearsAndMonths: as(`${number} ?(?:YEARS) ?(?:and )?(\\d{1,2}) ?(?:MONTHS|m)(?![a-z0-9])`),
    maybe: [
      { pattern: as(`${withDecimal} ?(?:YEARS)(?![a-z/])`), per: 1 },
      { pattern: as(`${number} ?(?:MONTHS)(?![a-z])`), per: 12 },
      { pattern: as(`${number} ?(?:WEEKS)(?![a-z])`), per: 52 },
    ],
    besideSex: as(
      `(?<![a-z0-9])(?:${people.grown}|${own.map(({ words }) => words).join('|')})(?: of| aged|(?<=(?:^|[;|]) ?[a-z]+)) (\\d{2,3})(?: ?(?:YEARS)(?:[- ]olds?)?)?(?![\\d.,a-z]| ?%| ?(?:${anyUnit})(?![a-z]))`,
    ),
    /** in a line that asks what would be normal: 'predicted fvc woman 55', 'lln snip 62 female' */
    predicted: as(`(?<![a-z0-9])(?:${people.predicted})(?![a-z0-9])`),
    afterPerson: as(`(?<![a-z0-9])(?:${person}) (?:of )?(\\d{1,3})(?![\\d.,/a-z]| ?%| ?(?:${anyUnit})(?![a-z]))`),
    beforePerson: as(`${number}(?= ?(?:${person})(?![a-z]))`),
    bareHeight: as(`(?<=(?<![a-z0-9])(?:${person}|f|m|\\d\\d|YEARS|yo) (?:; )?)(1[2-9]\\d|20\\d)(?![\\d.,/]| ?[%a-z])`),
    letter: [
      as(`${number} ?([mf])(?![a-z0-9/]| (?:${people.distanceAfter})(?![a-z]))`),
      as(`(?<![a-z0-9/])([mf]) ?(\\d{1,3})(?: ?(?:YEARS))?(?![\\d.,/a-z]| ?%| ?(?:${anyUnit})(?![a-z]))`),
    ],
    distance: as(`(?<![a-z])(?:${people.distanceBefore}) $`),
    ofChild: as(`(?<=\\b(?:${people.child}) )(\\d|1[0-7])(?![\\d.,]| ?[%a-z])`),
    told: as(
      `(?<![a-z])(?:${time.before}) (?:(?:${time.about}) )?${span}(?: (?:${time.after})(?![a-z]))?|(?<![\\d.,/-])${span} (?:${time.after})(?![a-z])|(?<![\\d.,/-])\\d+(?:[.,]\\d+)? ?(?:HOURS) (?:${time.ago}|${time.later})(?![a-z])`,
    ),
    bare: as(`(?<![\\d.,/-])${span}`),
    series: as(`\\d ?(?:%|l)? (?:(?:${time.then}) )?\\d+(?:[.,]\\d+)? ?(?:%|l)? ?$`),
    number: as(`^ \\d{1,2}(?= ?(?:;|$)| (?!(?:YEARS|MONTHS|WEEKS|DAYS|[mfy]o?|${anyUnit})(?![a-z]))[a-z])`),
    lead: as(`^(?:${time.supports}) `),
  };
});

/**
 * @param young  the line speaks of a child, so that months and weeks are an age
 * @param blows  a test is told that no baby can do, so that an 'm' after a number is no month
 * @param offers  'dmd 14 wheelchair 2 yrs': with a number right after the disease the years are a length of time
 * @param countsDays  a measure of the line is itself a number of days or months
 */
export function takeAge(
  scan: Scanner,
  diseases: readonly Disease[],
  young: boolean,
  countsDays = false,
  waits: (before: string) => boolean = () => false,
  blows = false,
  offers = true,
): Ages {
  const age =
    yearsAndMonths(scan, diseases) ??
    explicitAge(scan) ??
    ageForPrediction(scan) ??
    ageWithLetter(scan, diseases, waits, blows);
  if (countsDays) return { age, durations: [] };
  const durations: Taken[] = takeDurations(scan, true);
  const offered = age ?? (offers ? offeredAge(scan, diseases, young, blows) : undefined);
  return { age: offered, durations: [...durations, ...takeDurations(scan, false)] };
}

/** In a disease of adults it is how long. */
function yearsAndMonths(scan: Scanner, diseases: readonly Disease[]): AgeTyped | undefined {
  const match = ages(scan.words).yearsAndMonths.exec(scan.rest);
  if (!match || diseases.some((disease) => adultDiseases.includes(disease)) || Number(match[2]) > 11) return undefined;
  const taken = scan.cut(match.index, match.index + match[0].length);
  return { ...taken, years: Number(match[1]) + Number(match[2]) / 12 };
}

function explicitAge(scan: Scanner): AgeTyped | undefined {
  const { surely, ofChild, besideSex } = ages(scan.words);
  for (const { pattern, per } of surely) {
    const match = pattern.exec(scan.rest);
    const years = decimal(match?.[1]) / per;
    // The letter after it says the sex, and is read there.
    if (match && years <= 120) return { ...scan.cut(match.index, match.index + match[0].length), years };
  }
  const match = ofChild.exec(scan.rest);
  if (match) return { ...scan.cut(match.index, match.index + match[0].length), years: Number(match[1]) };
  const person = besideSex.exec(scan.rest);
  if (!person || Number(person[1]) > 110) return undefined;
  // 'man 65' says no years.
  const bare = person[0].endsWith(` ${person[1]}`) && !/(?: of| aged) \d+$/.test(person[0]);
  return {
    ...cutFrom(scan, person, person[1]),
    years: Number(person[1]),
    ...(bare ? { assumed: `age ${person[1]}?` } : {}),
  };
}

/** In a line that asks what would be normal for someone, a number beside the person is an age, and is offered as one. */
function ageForPrediction(scan: Scanner): AgeTyped | undefined {
  const { predicted, afterPerson, beforePerson } = ages(scan.words);
  const asked = predicted.exec(scan.text);
  if (!asked) return undefined;
  const before = beforePerson.exec(scan.rest);
  // 'vc 62 man predicted': the number is the one that was measured.
  const match = afterPerson.exec(scan.rest) ?? (before && before.index > asked.index ? before : null);
  const years = Number(match?.[1]);
  if (!match || years < 3 || years > 110) return undefined;
  return { ...cutFrom(scan, match, match[1]), years, assumed: `age ${match[1]}?` };
}

/** '160' in such a line is centimetres: no test is predicted from anything else of that size. */
function heightForPrediction(scan: Scanner): HeightTyped | undefined {
  const { predicted, bareHeight } = ages(scan.words);
  const match = predicted.test(scan.text) ? bareHeight.exec(scan.rest) : null;
  return match ? guessed(scan, match, decimal(match[1])) : undefined;
}

/** From the figure to the end of what was found. */
const cutFrom = (scan: Scanner, match: RegExpExecArray | RegExpMatchArray, figure = ''): Taken => {
  const at = match.index ?? 0;
  return scan.cut(at + match[0].lastIndexOf(figure), at + match[0].length);
};

/** Below this a number with an 'm' can be months, in the diseases of small children. */
const surelyYears = 25;

/**
 * '44 f', '68m', 'm 62': the letter says the sex, and is read there. Not where a measure waits for the number ('snip 44 m'),
 * nor where the letter can be metres or months.
 */
function ageWithLetter(
  scan: Scanner,
  diseases: readonly Disease[],
  waits: (before: string) => boolean,
  blows: boolean,
): AgeTyped | undefined {
  const { letter, distance, predicted } = ages(scan.words);
  const grown = diseases.some((disease) => adultDiseases.includes(disease) || disease === 'dmd');
  for (const pattern of letter)
    for (const match of scan.rest.matchAll(new RegExp(pattern.source, 'g'))) {
      const [first = '', second = ''] = match.slice(1);
      const before = scan.rest.slice(0, match.index);
      const figure = /\d/.test(first) ? first : second;
      const years = Number(figure);
      const isMale = first === 'm' || second === 'm';
      if (years < 1 || years > 110 || (waits(before) && !predicted.test(before)) || (isMale && distance.test(before)))
        continue;
      if (isMale && years < surelyYears && !grown && !(blows && years >= 5)) continue;
      return {
        ...(figure === first ? scan.cut(match.index, match.index + figure.length) : cutFrom(scan, match, figure)),
        years,
        assumed: `\u201c${match[0]}\u201d read as age ${years}, ${isMale ? 'male' : 'female'}`,
      };
    }
  return undefined;
}

/** 'fvc 60 then 50 6 months': right after two numbers of a test that no baby can do. 'fvc 48 18 months' is an age. */
const isLength = (scan: Scanner, { 0: found, index }: RegExpExecArray): boolean =>
  !/^\d+(?:[.,]\d)? ?y/.test(found) && ages(scan.words).series.test(scan.rest.slice(0, index));

function offeredAge(scan: Scanner, diseases: readonly Disease[], young: boolean, blows: boolean): AgeTyped | undefined {
  const adult = diseases.some((disease) => adultDiseases.includes(disease));
  for (const { pattern, per } of ages(scan.words).maybe) {
    const match = pattern.exec(scan.rest);
    if (!match) continue;
    const years = decimal(match[1]) / per;
    if (years > 120 || (adult && years < 16) || (per === 52 && !young) || (blows && isLength(scan, match))) continue;
    const taken = scan.cut(match.index, match.index + match[0].length);
    // 'sci 40 years' can be how long.
    const sure = young || (!isChild(years) && !adult);
    return { ...taken, years, ...(sure ? {} : { assumed: `age ${ageWords(years)}?` }) };
  }
  return undefined;
}

/** 'over 6 months', '3 months ago'; with `told` off, any length of time that is left. What it follows stays in the line. */
function takeDurations(scan: Scanner, told: boolean): Taken[] {
  const found: Taken[] = [];
  const patterns = ages(scan.words);
  const pattern = told ? patterns.told : patterns.bare;
  for (let match = pattern.exec(scan.rest); match; match = pattern.exec(scan.rest)) {
    const lead = patterns.lead.exec(match[0])?.[0].length ?? 0;
    found.push(scan.cut(match.index + lead, match.index + match[0].length));
  }
  return found;
}

/** Whether a text begins with a number that nothing says the kind of. */
export const beginsBare = (text: string, words: Vocabulary): boolean => ages(words).number.test(text);

export const ageWords = (years: number): string =>
  years >= 2 ? `${years} years` : years === 0 ? 'under 1 year' : `${Math.round(years * 12)} months`;

export const saysYoung = (text: string, { people, phrase }: Vocabulary): boolean => phrase(people.child).test(text);

// ---- height ----------------------------------------------------------------------------------------------------------------

export interface HeightTyped extends Taken {
  cm: number;
  assumed?: string;
}

const decimal = (text: string | undefined): number => Number((text ?? '').replace(',', '.'));
const sane = (cm: number): boolean => cm >= 40 && cm <= 230;

const heights = madeOnce(({ people, numbers }) => ({
  feet: new RegExp(
    `(?:(?<![a-z])(?:${people.height}) )?(?<![\\d.,])([3-7]) ?(?:${people.feet})(?: ?(\\d{1,2})(?: ?(?:${people.inches})(?![a-z]))?)?(?![\\d.,])`,
  ),
  named: new RegExp(
    `(?<![a-z0-9])(?:${people.height})(?: is| of)? (\\d+(?:[.,]\\d+)?) ?(cms?|${people.centimetres}|${people.metres}|${people.inches})?(?![a-z0-9])`,
  ),
  metres: new RegExp(`(?<![\\d.,])([12][.,]\\d{1,2}) ?(?:${people.metres})(?![a-z])`),
  centimetres: new RegExp(
    `(?<![\\d.,-])(\\d{2,3}(?:[.,]\\d)?) ?(?:cms?(?! ?(?:h2o|of water|water|w)(?![a-z]))|${people.centimetres})(?![a-z\\d])`,
    'g',
  ),
  inches: new RegExp(
    `(?<![\\d.,/-])([4-7]\\d(?:[.,]\\d)?)[ -]?(?:${people.inches})(?= (?:${people.tall})(?![a-z])|(?<=[a-z]{4}) ?(?:[;|]|$))`,
  ),
  afterPressure: new RegExp(`(?<![a-z0-9])(?:${numbers.pressures})(?![a-z0-9])[^\\d;]*$`),
  afterLength: new RegExp(`(?:${people.lengthsBefore})[^\\d;]*$`),
}));

export function takeHeight(scan: Scanner): HeightTyped | undefined {
  const patterns = heights(scan.words);
  const feet = patterns.feet.exec(scan.rest);
  if (feet) return cutHeight(scan, feet, (Number(feet[1]) * 12 + Number(feet[2] ?? 0)) * 2.54);
  const named = patterns.named.exec(scan.rest);
  if (named) {
    const value = decimal(named[1]);
    const unit = named[2] ?? (value <= 2.3 ? 'm' : value >= 100 ? 'cm' : '');
    const cm = unit.startsWith('in') ? value * 2.54 : unit.startsWith('m') ? value * 100 : unit === '' ? 0 : value;
    return sane(cm) ? cutHeight(scan, named, cm) : undefined;
  }
  const inches = patterns.inches.exec(scan.rest);
  if (inches && !patterns.afterLength.test(scan.text.slice(0, inches.index)))
    return guessed(scan, inches, decimal(inches[1]) * 2.54);
  const metres = patterns.metres.exec(scan.rest);
  if (metres && sane(decimal(metres[1]) * 100) && decimal(metres[1]) < 2.3)
    return guessed(scan, metres, decimal(metres[1]) * 100);
  for (const match of scan.rest.matchAll(patterns.centimetres)) {
    const before = scan.text.slice(0, match.index);
    if (patterns.afterPressure.test(before) || patterns.afterLength.test(before)) continue;
    if (decimal(match[1]) >= 100 && sane(decimal(match[1]))) return guessed(scan, match, decimal(match[1]));
  }
  return heightForPrediction(scan);
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
  told: Ages,
  height: HeightTyped | undefined,
  words: Vocabulary,
): PersonSaid {
  const infants = words.phrase(words.people.infant);
  const person: AskedPerson = {};
  const assumed = [told.age?.assumed, height?.assumed].filter((one) => one !== undefined);
  const unused: Taken[] = concepts.filter(({ negated, what }) => negated && what.kind === 'disease');
  const said = concepts.filter(({ negated }) => !negated);
  if (told.age) person.ageYears = told.age.years;
  else if (said.some(({ typed }) => infants.test(typed))) {
    person.ageYears = 0;
    assumed.push('under 1 year');
  }
  if (height) person.heightCm = height.cm;
  const sexes = new Set(said.flatMap(({ what }) => (what.kind === 'sex' ? [what.sex] : [])));
  const [sex] = sexes;
  // Two sexes in one line, or one that was denied: whoever is in hand must not lend theirs.
  const denied = concepts.find(({ what, negated }) => negated && what.kind === 'sex');
  if (sexes.size === 1) person.sex = sex;
  else if (sexes.size > 1) person.sex = undefined;
  else if (denied?.what.kind === 'sex') {
    person.sex = denied.what.sex === 'male' ? 'female' : 'male';
    assumed.push(`${person.sex}, as the line says \u201c${denied.typed}\u201d`);
  }
  addDisease(person, said, assumed, unused);
  const adult = person.disease !== undefined && adultDiseases.includes(person.disease);
  // 'old boy with mnd' is no child; a cord can be injured at any age.
  const child =
    person.ageYears === undefined
      ? !(adult && person.disease !== 'sci') && said.some(({ what }) => what.kind === 'child')
      : isChild(person.ageYears);
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
  // 'c4 quad, acute': the injury and the word that says when are one disease.
  const others = named.filter(
    ({ disease }) => disease !== chosen.disease && !(chosen.disease === 'sci-acute' && disease === 'sci'),
  );
  unused.push(...others.map(({ concept }) => concept));
  if (others.length > 0) assumed.push(`${diseaseNames[chosen.disease]}, of the diseases named`);
}
