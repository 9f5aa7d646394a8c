/**
 * The files of content/words/ as one set of words: their schema, what they may name, and the patterns made from them. Runs when
 * the site is built and in tests; a reader's browser gets the result.
 */

import { type Measures, Unit } from '../domain/measure.ts';
import { Disease, Sex } from '../domain/person.ts';
import { slug, text, z } from '../domain/schema.ts';
import { supportStatuses, wishList } from '../domain/visit.ts';
import { patternOf } from './phrases.ts';
import type { WordData } from './vocabulary.ts';

const say = z.array(text).check(z.minLength(1));
const yes = z.optional(z.literal(true));
const ids = z.array(slug);
const counts = z.record(text, z.number());
const group = <const Names extends readonly string[]>(...names: Names) =>
  z.strictObject(Object.fromEntries(names.map((name) => [name, say])) as Record<Names[number], typeof say>);

const Sign = z.strictObject({
  say,
  means: ids,
  denied: z.optional(ids),
  child: z.optional(z.strictObject({ means: ids, denied: z.optional(ids) })),
  childOnly: z.optional(z.enum(['tells', 'needs'])),
  as: z.optional(text),
  healthy: yes,
  fine: yes,
  once: yes,
  besides: yes,
  tag: z.optional(slug),
  flag: z.optional(slug),
  flagFirst: z.optional(slug),
  uses: z.optional(slug),
  danger: z.optional(text),
});

const NightMeasure = z.strictObject({
  kind: z.enum(['co2', 'saturation']),
  measure: slug,
  above: z.optional(z.number()),
  below: z.optional(z.number()),
  unit: z.optional(Unit),
});

/** One file, as it is written. */
export const wordFiles = {
  parts: z.strictObject({ parts: z.record(z.string().check(z.regex(/^[A-Z]{4,}$/)), say) }),
  signs: z.strictObject({
    signs: z.array(Sign),
    signsInDisease: z.array(z.strictObject({ disease: Disease, of: ids, means: slug, as: text, absentToo: yes })),
    together: z.array(
      z.strictObject({
        diseases: z.optional(z.array(Disease)),
        tags: ids,
        other: z.optional(z.strictObject({ label: text, from: z.optional(z.number()), to: z.optional(z.number()) })),
        means: ids,
        as: z.optional(text),
        danger: z.optional(text),
      }),
    ),
  }),
  diseases: z.strictObject({ diseases: z.array(z.strictObject({ disease: Disease, say })) }),
  people: z.strictObject({
    sexes: z.array(z.strictObject({ sex: Sex, relative: yes, say })),
    people: group(
      'infant',
      'child',
      'grown',
      'height',
      'feet',
      'inches',
      'tall',
      'metres',
      'centimetres',
      'relatives',
      'relativeIs',
      'heIs',
      'noAgeWith',
      'noAgeAfter',
      'predicted',
      'lengthsBefore',
      'distanceBefore',
      'distanceAfter',
    ),
    time: group(
      'before',
      'after',
      'supports',
      'about',
      'ago',
      'later',
      'now',
      'then',
      'was',
      'past',
      'longAgo',
      'usedTo',
      'stillSo',
      'since',
      'earlier',
      'trend',
      'over',
      'lastYear',
      'lastMonth',
    ),
    counts,
    monthNames: say.check(z.length(12)),
  }),
  negation: z.strictObject({
    negation: group(
      'before',
      'stopping',
      'light',
      'or',
      'and',
      'denying',
      'nouns',
      'alone',
      'minus',
      'deniedAfter',
      'noneSince',
      'goneAfter',
      'goneVerbs',
      'stoppedAfter',
      'affirmedAfter',
      'answers',
      'clauseEnds',
    ),
  }),
  supports: z.strictObject({
    supports: z.array(z.strictObject({ decision: slug, name: text, ventilates: yes, say })),
    supportFrames: z.array(z.strictObject({ status: z.enum(supportStatuses), ventilated: yes, besides: yes, say })),
    offSupport: say,
    wishes: z.array(z.strictObject({ wish: z.enum(wishList), say })),
  }),
  oxygen: z.strictObject({
    oxygen: z.array(z.strictObject({ night: yes, tag: z.optional(slug), say })),
    oxygenStarted: say,
    oxygenNamed: say,
    air: say,
    bareAir: say,
    masks: say,
    withFlow: say,
    interfaces: z.array(
      z.strictObject({
        interface: z.enum(['cannula', 'simple-mask', 'reservoir-mask', 'venturi', 'tracheostomy-mask']),
        say,
      }),
    ),
  }),
  readings: z.strictObject({
    methods: z.array(z.strictObject({ method: text, say })),
    flags: z.array(z.strictObject({ flags: ids, say })),
    manner: group(
      'night',
      'lying',
      'sitting',
      'compared',
      'threshold',
      'overTime',
      'nightAfter',
      'nightBefore',
      'tens',
      'earlier',
      'going',
      'percentAsked',
      'awake',
      'gasAsleep',
      'fallBy',
      'fallTo',
      'about',
      'daily',
      'dips',
      'sides',
      'best',
      'peak',
      'peakAfter',
      'ofPeak',
      'baseline',
    ),
    nightMeasures: z.array(NightMeasure),
    changes: z.array(z.strictObject({ change: z.enum(['fall', 'rise']), say })),
    names: z.array(z.strictObject({ measure: slug, names: say })),
    following: z.array(z.strictObject({ measure: slug, say })),
    guards: z.array(
      z.strictObject({
        name: text,
        notAfter: z.optional(text),
        onlyThen: text,
        orAfter: z.optional(text),
        as: z.optional(text),
      }),
    ),
    rewrites: z.array(z.strictObject({ as: z.string(), say })),
    ordinary: say,
  }),
  numbers: z.strictObject({
    units: z.array(z.strictObject({ unit: Unit, say })),
    others: z.array(z.strictObject({ label: text, measure: z.optional(slug), say })),
    spelled: z.strictObject({
      ones: counts,
      teens: counts,
      tens: counts,
      nought: counts,
      minus: say,
      point: say,
      hundred: say,
      and: say,
      counted: say,
      counting: say,
      stone: say,
    }),
    numbers: group(
      'otherUnits',
      'asides',
      'pressures',
      'gasRow',
      'gasThen',
      'gasUnits',
      'doses',
      'notDoseAfter',
      'points',
      'halves',
      'lost',
      'ordinals',
    ),
  }),
  passing: z.strictObject({ passing: say }),
  spelling: z.strictObject({ spelling: say }),
  topics: z.strictObject({
    topics: z.array(
      z.strictObject({
        id: slug,
        page: text,
        section: z.optional(text),
        forDisease: z.optional(z.partialRecord(Disease, text)),
        says: z.optional(text),
        saysFor: z.optional(z.partialRecord(Disease, text)),
        say,
      }),
    ),
    asking: say,
  }),
} as const;

export type WordFile = keyof typeof wordFiles;
export type WordFiles = { [Name in WordFile]: z.infer<(typeof wordFiles)[Name]> };

type Written<T> = T extends { say: string[] } ? Omit<T, 'say'> & { words: string } : never;
const withWords = <T extends { say: string[] }>(rows: readonly T[]): Written<T>[] =>
  rows.map(({ say: phrases, ...rest }) => ({ words: patternOf(phrases), ...rest }) as unknown as Written<T>);
const patterns = <Names extends string>(lists: Record<Names, string[]>): Record<Names, string> =>
  Object.fromEntries(Object.entries<string[]>(lists).map(([name, phrases]) => [name, patternOf(phrases)])) as Record<
    Names,
    string
  >;

/** The words as the reader runs on them. Goes through JSON unchanged. */
export function wordDataOf(files: WordFiles): WordData {
  const { signs, diseases, people, negation, supports, oxygen, readings, numbers, passing, parts, spelling, topics } =
    files;
  return {
    parts: patterns(parts.parts),
    signs: signs.signs.map(({ say: phrases, means, denied, child, ...rest }) => ({
      words: patternOf(phrases),
      yes: means,
      ...(denied ? { no: denied } : {}),
      ...(child ? { child: { yes: child.means, ...(child.denied ? { no: child.denied } : {}) } } : {}),
      ...rest,
    })),
    signsInDisease: signs.signsInDisease.map(({ means, ...rest }) => ({ ...rest, yes: means })),
    together: signs.together.map(({ means, ...rest }) => ({ ...rest, yes: means })),
    diseases: withWords(diseases.diseases),
    sexes: withWords(people.sexes),
    people: patterns(people.people),
    time: patterns(people.time),
    negation: patterns(negation.negation),
    supports: withWords(supports.supports),
    supportFrames: supports.supportFrames.map(({ say: phrases, ...rest }) => ({
      ...rest,
      words: patternOf(phrases),
      bare: patternOf(phrases.filter((one) => !one.includes('NAME'))),
    })),
    offSupport: patternOf(supports.offSupport),
    wishes: withWords(supports.wishes),
    oxygen: withWords(oxygen.oxygen),
    oxygenStarted: patternOf(oxygen.oxygenStarted),
    oxygenNamed: patternOf(oxygen.oxygenNamed),
    air: patternOf(oxygen.air),
    bareAir: patternOf(oxygen.bareAir),
    masks: patternOf(oxygen.masks),
    withFlow: patternOf(oxygen.withFlow),
    interfaces: withWords(oxygen.interfaces),
    methods: withWords(readings.methods),
    flags: withWords(readings.flags),
    manner: patterns(readings.manner),
    changes: withWords(readings.changes),
    names: readings.names,
    following: withWords(readings.following),
    guards: readings.guards,
    rewrites: withWords(readings.rewrites),
    ordinary: readings.ordinary,
    units: withWords(numbers.units),
    others: withWords(numbers.others),
    numbers: patterns(numbers.numbers),
    spelled: spelledOf(numbers.spelled),
    passing: passing.passing,
    nightMeasures: readings.nightMeasures,
    counts: people.counts,
    monthNames: people.monthNames.map((month) => patternOf([month])),
    spelling: spelling.spelling,
    topics: withWords(topics.topics),
    asking: patternOf(topics.asking),
  };
}

const spelledOf = ({ ones, teens, tens, nought, ...words }: WordFiles['numbers']['spelled']): WordData['spelled'] => ({
  ones,
  teens,
  tens,
  nought,
  ...patterns(words),
});

/** What a word may stand for. */
export interface Known {
  measures: Measures;
  decisions: ReadonlySet<string>;
  /** the handbook's pages by address, as '/urgent/chest-infection/', each with its headings */
  pages: ReadonlyMap<string, readonly string[]>;
}

/** Something that a file names and that there is not, or a phrase that cannot be read; `at` leads to it. */
export interface WordFault {
  at: (string | number)[];
  message: string;
}

/** @param files  each already held to its schema */
export function wordFaults(files: WordFiles, known: Known): { [Name in WordFile]?: WordFault[] } {
  const found: { [Name in WordFile]?: WordFault[] } = {};
  const parts = new Set([...Object.keys(files.parts.parts), 'NAME']);
  for (const name of Object.keys(files) as WordFile[]) {
    const faults = [
      ...namesIn(files[name], known),
      ...phrasesIn(files[name], parts),
      ...(name === 'topics' ? sectionsIn(files.topics, known) : []),
    ];
    if (faults.length > 0) found[name] = faults;
  }
  return found;
}

const kinds: Readonly<Record<string, 'sign' | 'measure' | 'decision' | 'page' | 'flag'>> = {
  means: 'sign',
  denied: 'sign',
  of: 'sign',
  measure: 'measure',
  decision: 'decision',
  uses: 'decision',
  danger: 'page',
  page: 'page',
  flag: 'flag',
  flags: 'flag',
  flagFirst: 'flag',
};

function namesIn(file: unknown, { measures, decisions, pages }: Known): WordFault[] {
  const flags = new Set(
    Object.values(measures).flatMap((one) => (one.kind === 'number' ? one.flags.map(({ id }) => id) : [])),
  );
  const there = (kind: string, id: string): boolean =>
    kind === 'sign'
      ? measures[id]?.kind === 'sign'
      : kind === 'measure'
        ? measures[id]?.kind === 'number'
        : kind === 'page'
          ? isPage(id, { pages, decisions })
          : (kind === 'decision' ? decisions : flags).has(id);
  return textsIn(file).flatMap(({ at, value }) => {
    const key = at.findLast((step) => typeof step === 'string');
    const kind = key === undefined || at.length < 3 ? undefined : kinds[key];
    return kind === undefined || there(kind, value) ? [] : [{ at, message: `there is no ${kind} "${value}"` }];
  });
}

/** A page of the handbook, or of a decision. */
const isPage = (page: string, { pages, decisions }: Pick<Known, 'pages' | 'decisions'>): boolean =>
  pages.has(page) || decisions.has(/^\/decisions\/([^/]+)\/$/.exec(page)?.[1] ?? '');

function sectionsIn({ topics }: WordFiles['topics'], known: Known): WordFault[] {
  return topics.flatMap(({ page, section, forDisease = {} }, index) => [
    ...[page, ...Object.values(forDisease)]
      .filter((one) => section !== undefined && !(known.pages.get(one) ?? [section]).includes(section))
      .map((one) => ({ at: ['topics', index, 'section'], message: `${one} has no section "${section}"` })),
    ...Object.entries(forDisease)
      .filter(([, one]) => !isPage(one, known))
      .map(([disease, one]) => ({
        at: ['topics', index, 'forDisease', disease],
        message: `there is no page "${one}"`,
      })),
  ]);
}

const phraseGroups = new Set(['people', 'time', 'negation', 'manner', 'numbers', 'parts']);
const phraseLists = new Set([
  'say',
  'monthNames',
  'asking',
  'offSupport',
  'oxygenStarted',
  'oxygenNamed',
  'air',
  'bareAir',
  'masks',
  'withFlow',
]);
const isPhrase = (at: WordFault['at']): boolean =>
  at.some((step) => phraseLists.has(String(step))) || (phraseGroups.has(String(at[0])) && at.length === 3);

function phrasesIn(file: unknown, parts: ReadonlySet<string>): WordFault[] {
  return textsIn(file).flatMap(({ at, value }) => {
    if (!isPhrase(at)) return [];
    const strange = value.match(/[A-Z]{2,}/g)?.find((name) => !parts.has(name));
    if (strange !== undefined) return [{ at, message: `no shared part "${strange}" in parts.yaml` }];
    try {
      new RegExp(patternOf([value]));
      return [];
    } catch (error) {
      return [{ at, message: error instanceof Error ? error.message : String(error) }];
    }
  });
}

/** Every text of a file, with the way to it. */
function textsIn(value: unknown, at: (string | number)[] = []): { at: (string | number)[]; value: string }[] {
  if (typeof value === 'string') return [{ at, value }];
  if (Array.isArray(value)) return value.flatMap((one, index) => textsIn(one, [...at, index]));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => textsIn(one, [...at, key]));
}
