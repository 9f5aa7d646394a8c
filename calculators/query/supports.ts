/** Support that is in place, declined or denied, and what was breathed. */

import type { Reading, SupportStatus, Wish } from '../domain/visit.ts';
import { execWhere } from './beginnings.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import { clauseOf, type Scanner, type Taken } from './text.ts';
import { madeOnce, type SupportWords, type Vocabulary } from './vocabulary.ts';

export type Gas = NonNullable<Reading['gas']>;

export type Support =
  | { kind: 'support'; words: SupportWords; status: SupportStatus; ventilated: boolean; besides: boolean }
  /** named without a word that says whether it is used: counts only where it is negated */
  | { kind: 'named'; words: SupportWords }
  /** taken off it for the reading */
  | { kind: 'off'; words: SupportWords }
  | { kind: 'oxygen'; night: boolean; litresPerMinute: number | undefined; tag?: string | undefined }
  | { kind: 'oxygen-named' }
  | { kind: 'air' };

const named = (words: SupportWords, frame: string): string => frame.replaceAll('NAME', `(?:${words.words})`);

function framed({ supports, supportFrames, phrase, filled }: Vocabulary) {
  const name = new Map(supports.map((words) => [words, new RegExp(filled(words.words))]));
  return supportFrames.flatMap(({ words: frame, bare, status, ventilated = false, besides = false }) =>
    supports
      .filter(({ decision }) => frame.includes('NAME') || decision === 'night-ventilation')
      .map((words) => ({
        pattern: phrase(named(words, frame)),
        // One of these is in every match: the long patterns run only where it stands.
        parts: [name.get(words) ?? [], bare === '' ? [] : phrase(bare)].flat(),
        what: {
          kind: 'support',
          words,
          status,
          ventilated: ventilated && words.ventilates === true,
          besides,
        } as Support,
      })),
  );
}

const tables = madeOnce((words) => {
  const { supports, phrase } = words;
  return {
    oxygen: words.oxygen.map(({ words: said, night = false, tag }) => ({ pattern: phrase(said), night, tag })),
    oxygenNamed: [{ pattern: phrase(words.oxygenNamed), what: { kind: 'oxygen-named' } as Support }],
    framed: framed(words),
    taken: supports
      .filter(({ ventilates }) => ventilates)
      .map((one) => ({ pattern: phrase(named(one, words.offSupport)), what: { kind: 'off', words: one } as Support })),
    named: supports.map((one) => ({ pattern: phrase(one.words), what: { kind: 'named', words: one } as Support })),
    air: [{ pattern: phrase(words.air), what: { kind: 'air' } as Support }],
    bareAir: phrase(words.bareAir),
    wishes: words.wishes.map(({ words: said, wish }) => ({ pattern: phrase(said), wish })),
  };
});

export function takeSupports(scan: Scanner): Concept<Support>[] {
  const table = tables(scan.words);
  return [
    ...takeOxygen(scan),
    ...takeConcepts(
      scan,
      table.framed.filter(({ parts }) => parts.some((part) => execWhere(part, scan.rest))),
    ),
    ...takeConcepts(scan, table.taken),
    ...takeConcepts(scan, table.named),
  ];
}

/** '500 cc' of oxygen let in is half a litre. */
const litres = (typed: string, words: string): number =>
  Number(typed.replace(',', '.')) / (new RegExp(`${typed} ?(?:cc|ml)`).test(words) ? 1000 : 1);

function takeOxygen(scan: Scanner): Concept<Support>[] {
  const found: Concept<Support>[] = [];
  const { oxygen, oxygenNamed } = tables(scan.words);
  for (const { pattern, night, tag } of oxygen)
    for (let match = execWhere(pattern, scan.rest); match; match = execWhere(pattern, scan.rest)) {
      const typed = match.slice(1).find((group) => group !== undefined);
      const perMinute = typed === undefined ? undefined : litres(typed, match[0]);
      found.push({
        ...scan.cut(match.index, match.index + match[0].length),
        what: { kind: 'oxygen', night, litresPerMinute: perMinute, tag },
        stops: true,
      });
    }
  const bare = takeConcepts<Support>(scan, oxygenNamed);
  return [...found, ...bare.map((concept) => ({ ...concept, stops: true }))];
}

export const takeAir = (scan: Scanner): Concept<Support>[] => takeConcepts(scan, tables(scan.words).air);

/** 'sats 91 air': the bare word right after a number. */
export function takeBareAir(scan: Scanner): Concept<Support>[] {
  const match = tables(scan.words).bareAir.exec(scan.rest);
  if (!match || !/\d ?%? ?(?:; )?$/.test(scan.text.slice(0, match.index))) return [];
  return [{ ...scan.cut(match.index, match.index + 3), what: { kind: 'air' } }];
}

export function takeWishes(scan: Scanner): Wish[] {
  return tables(scan.words).wishes.flatMap(({ pattern, wish }) => (scan.take(pattern) ? [wish] : []));
}

export interface SupportsSaid {
  supports: Record<string, SupportStatus>;
  because: Record<string, string>;
  /** counts as something said about a visit */
  tells: boolean;
  /** what was breathed, with the place in the line */
  breathed: { at: number; end: number; gas: Gas | undefined; starts?: boolean }[];
  /** oxygen that is used without anything said about ventilation, or with ventilation denied */
  oxygen: { night: boolean; typed: string } | undefined;
  litresPerMinute: number | undefined;
  noOxygen: boolean;
  notAir: boolean;
  /** understood, and no more */
  noted: string[];
  /** named, and nothing said about it */
  unused: Concept<Support>[];
  /** what joins one to the next: 'nor' */
  joined: Pick<Taken, 'at' | 'end'>[];
}

/** @param text  the line: what was once so gives way to what is so now */
export function supportsSaid(concepts: readonly Concept<Support>[], text: string, words: Vocabulary): SupportsSaid {
  const said: SupportsSaid = {
    supports: {},
    because: {},
    tells: false,
    breathed: [],
    oxygen: undefined,
    litresPerMinute: undefined,
    noOxygen: false,
    notAir: false,
    noted: [],
    unused: [],
    joined: [],
  };
  const sorted = listed(
    [...concepts].sort((a, b) => a.at - b.at),
    text,
    words,
    said.joined,
  );
  for (const concept of sorted.sort((a, b) => ageOf(a, text, words) - ageOf(b, text, words))) addSupport(said, concept);
  for (const one of said.breathed) one.starts = started(words).test(text.slice(0, one.end));
  said.breathed.sort((a, b) => a.at - b.at);
  return said;
}

const joins = madeOnce(({ negation, filled }) => {
  const joined = (words: string) => new RegExp(`^ ?(?:${words}) ?(?:(?:${filled(negation.light)}) ?)*$`);
  return {
    or: joined(filled(negation.or)),
    and: joined(negation.and),
    either: joined(`${filled(negation.or)}|${negation.and}`),
  };
});

/** 'does not want ventilation or a peg', 'has niv and suction': what is said of the first is said of the second. */
function listed(
  concepts: readonly Concept<Support>[],
  text: string,
  words: Vocabulary,
  joined: SupportsSaid['joined'],
): Concept<Support>[] {
  const { or, and, either } = joins(words);
  const goesOn: Partial<Record<SupportStatus, RegExp>> = { declined: either, none: or, 'in-place': and };
  let last: Concept<Support> | undefined;
  return concepts.map((concept) => {
    const { what, at, negated } = concept;
    const before = last?.what;
    const join = before?.kind === 'support' && !last?.negated ? goesOn[before.status] : undefined;
    const goes = last !== undefined && last.end <= at && join?.test(text.slice(last.end, at)) === true;
    if (goes && last !== undefined) joined.push({ at: last.end, end: at });
    last =
      goes && what.kind === 'named' && !negated && before?.kind === 'support'
        ? { ...concept, what: { ...before, words: what.words, ventilated: false } }
        : concept;
    return last;
  });
}

/** 'put on 2 l': a reading before it was taken without. */
const started = madeOnce(
  ({ oxygenStarted, filled }) => new RegExp(`(?<![a-z])(?:${filled(oxygenStarted)})(?: [^;|]*)?$`),
);

const tenses = madeOnce(({ time, phrase }) => ({ past: phrase(time.past), now: phrase(time.now) }));

/** 'was refusing the mask before, wears it now': what is said to be so now comes first, then what has no time. */
function ageOf({ at, end, typed }: Concept<Support>, text: string, words: Vocabulary): number {
  const { past, now } = tenses(words);
  const clause = `${clauseOf({ at, end }, text)} ${typed}`;
  return past.test(clause) ? 2 : now.test(clause) ? 0 : 1;
}

function addSupport(said: SupportsSaid, concept: Concept<Support>): void {
  const { what, negated = false, typed, at, end } = concept;
  if (what.kind === 'air') {
    if (negated) said.notAir = true;
    else said.breathed.push({ at, end, gas: 'air' });
  } else if (what.kind === 'oxygen' || what.kind === 'oxygen-named') {
    if (negated) said.noOxygen = true;
    else if (what.kind === 'oxygen-named') said.unused.push(concept);
    else addOxygen(said, what, concept);
  } else if (what.kind === 'off') {
    said.noted.push(typed);
    said.breathed.push({ at, end, gas: undefined });
  } else if (what.kind === 'named' && !negated && !concept.affirmed) said.unused.push(concept);
  else {
    const { decision } = what.words;
    const status = statusOf(concept.affirmed ? false : negated, what);
    // 'not declined' and the like say nothing that could be relied on.
    if (what.kind === 'support' && negated && what.status !== 'in-place') {
      said.unused.push(concept);
      return;
    }
    said.supports[decision] ??= status;
    said.because[decision] ??= typed;
    if (what.kind === 'named' || !what.besides) said.tells = true;
    if (what.kind === 'support' && what.ventilated && !negated) said.breathed.push({ at, end, gas: 'ventilation' });
  }
}

const statusOf = (negated: boolean, what: Support): SupportStatus =>
  what.kind !== 'support'
    ? negated
      ? 'none'
      : 'in-place'
    : negated && what.status === 'in-place'
      ? 'none'
      : what.status;

function addOxygen(
  said: SupportsSaid,
  { night, litresPerMinute }: { night: boolean; litresPerMinute: number | undefined },
  { typed, at, end }: Concept<Support>,
): void {
  said.oxygen ??= { night, typed };
  said.litresPerMinute ??= litresPerMinute;
  if (!night) said.breathed.push({ at, end, gas: 'oxygen' });
}
