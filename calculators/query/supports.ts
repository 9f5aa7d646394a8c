/** Support that is in place, declined or denied, and what was breathed. */

import type { Reading, SupportStatus, Wish } from '../domain/visit.ts';
import { type Concept, phrase, takeConcepts } from './concepts.ts';
import {
  airCompounds,
  airWords,
  offSupport,
  oxygenNamed,
  oxygenWords,
  type SupportWords,
  supportFrames,
  supportWords,
  wishWordsTyped,
} from './query-words.ts';
import type { Scanner } from './text.ts';

export type Gas = NonNullable<Reading['gas']>;

export type Support =
  | { kind: 'support'; words: SupportWords; status: SupportStatus; ventilated: boolean; besides: boolean }
  /** named without a word that says whether it is used: counts only where it is negated */
  | { kind: 'named'; words: SupportWords }
  /** taken off it for the reading */
  | { kind: 'off'; words: SupportWords }
  | { kind: 'oxygen'; night: boolean; litresPerMinute: number | undefined }
  | { kind: 'oxygen-named' }
  | { kind: 'air' };

const framed = supportFrames.flatMap(({ frame, status, ventilated = false, besides = false }) =>
  /NAME/.test(frame.source)
    ? supportWords.map((words) => ({
        pattern: phrase(frame.source.replaceAll('NAME', `(?:${words.words.source})`)),
        what: {
          kind: 'support',
          words,
          status,
          ventilated: ventilated && words.ventilates === true,
          besides,
        } as Support,
      }))
    : supportWords
        .filter(({ decision }) => decision === 'night-ventilation')
        .map((words) => ({
          pattern: phrase(frame),
          what: { kind: 'support', words, status, ventilated, besides } as Support,
        })),
);
const taken = supportWords
  .filter(({ ventilates }) => ventilates)
  .map((words) => ({
    pattern: phrase(offSupport.source.replace('NAME', `(?:${words.words.source})`)),
    what: { kind: 'off', words } as Support,
  }));
const named = supportWords.map((words) => ({
  pattern: phrase(words.words),
  what: { kind: 'named', words } as Support,
}));
const air = phrase(airWords.source.replaceAll('AIR', `(?:an? )?air(?! (?:${airCompounds.source})(?![a-z]))`));

export function takeSupports(scan: Scanner): Concept<Support>[] {
  return [
    ...takeOxygen(scan),
    ...takeConcepts(scan, framed),
    ...takeConcepts(scan, taken),
    ...takeConcepts(scan, named),
  ];
}

function takeOxygen(scan: Scanner): Concept<Support>[] {
  const found: Concept<Support>[] = [];
  for (const { words, night = false } of oxygenWords)
    for (let match = words.exec(scan.rest); match; match = words.exec(scan.rest)) {
      const typed = match.slice(1).find((group) => group !== undefined);
      const perMinute = typed === undefined ? undefined : Number(typed.replace(',', '.'));
      found.push({
        ...scan.cut(match.index, match.index + match[0].length),
        what: { kind: 'oxygen', night, litresPerMinute: perMinute },
        stops: true,
      });
    }
  const bare = takeConcepts<Support>(scan, [{ pattern: phrase(oxygenNamed), what: { kind: 'oxygen-named' } }]);
  return [...found, ...bare.map((concept) => ({ ...concept, stops: true }))];
}

export const takeAir = (scan: Scanner): Concept<Support>[] =>
  takeConcepts(scan, [{ pattern: air, what: { kind: 'air' } }]);

const bareAir = new RegExp(`(?<![a-z0-9])air(?! (?:${airCompounds.source})(?![a-z]))(?![a-z0-9])`);

/** 'sats 91 air': the bare word right after a number. */
export function takeBareAir(scan: Scanner): Concept<Support>[] {
  const match = bareAir.exec(scan.rest);
  if (!match || !/\d ?%? ?$/.test(scan.text.slice(0, match.index))) return [];
  return [{ ...scan.cut(match.index, match.index + 3), what: { kind: 'air' } }];
}

export function takeWishes(scan: Scanner): Wish[] {
  return wishWordsTyped.flatMap(([words, wish]) => (scan.take(phrase(words)) ? [wish] : []));
}

export interface SupportsSaid {
  supports: Record<string, SupportStatus>;
  because: Record<string, string>;
  /** counts as something said about a visit */
  tells: boolean;
  /** what was breathed, with the place in the line */
  breathed: { at: number; end: number; gas: Gas }[];
  /** oxygen that is used without anything said about ventilation, or with ventilation denied */
  oxygen: { night: boolean; typed: string } | undefined;
  litresPerMinute: number | undefined;
  noOxygen: boolean;
  notAir: boolean;
  /** understood, and no more */
  noted: string[];
  /** named, and nothing said about it */
  unused: Concept<Support>[];
}

export function supportsSaid(concepts: readonly Concept<Support>[]): SupportsSaid {
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
  };
  for (const concept of [...concepts].sort((a, b) => a.at - b.at)) addSupport(said, concept);
  return said;
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
  } else if (what.kind === 'off') said.noted.push(typed);
  else if (what.kind === 'named' && !negated) said.unused.push(concept);
  else {
    const { decision } = what.words;
    const status = what.kind === 'named' || (negated && what.status === 'in-place') ? 'none' : what.status;
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

function addOxygen(
  said: SupportsSaid,
  { night, litresPerMinute }: { night: boolean; litresPerMinute: number | undefined },
  { typed, at, end }: Concept<Support>,
): void {
  said.oxygen ??= { night, typed };
  said.litresPerMinute ??= litresPerMinute;
  if (!night) said.breathed.push({ at, end, gas: 'oxygen' });
}
