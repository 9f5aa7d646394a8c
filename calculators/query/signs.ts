/** Signs that the words of a line name, present or absent. */

import type { Disease } from '../domain/person.ts';
import type { Sign } from '../domain/visit.ts';
import type { Danger, Other } from './asked.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import { clauseOf, inOneClause, type Scanner, type Taken } from './text.ts';
import { madeOnce, type SignWords, type TogetherWords, type Vocabulary } from './vocabulary.ts';

const table = madeOnce(({ signs, phrase }) => signs.map((what) => ({ pattern: phrase(what.words), what })));

export const takeSigns = (scan: Scanner): Concept<SignWords>[] => takeConcepts(scan, table(scan.words));

export interface SignsSaid {
  signs: Record<string, Sign>;
  because: Record<string, string>;
  assumed: string[];
  dangers: Danger[];
  flags: Set<string>;
  /** supports that the words say are in use */
  uses: Set<string>;
  /** negated words that say nothing about a whole sign: understood, and no more */
  noted: string[];
  /** the words that `together` looks for, by their tag */
  tags: Map<string, string>;
  /** words that say something only together with others: not understood where nothing came of them */
  mentioned: Concept<SignWords>[];
  /** words about a child in a line about a grown-up */
  strange: Concept<SignWords>[];
  /** words that were only the flag of a test */
  onlyFlags: Concept<SignWords>[];
  /** a sign of a child was said, and nothing else about age */
  assumesChild: boolean;
}

/** Whose signs they are, and what else the line says that decides how they are read. */
export interface SignsOf {
  child: boolean;
  grown: boolean;
  disease: Disease | undefined;
  /** numbers that are no measure: a blood pressure */
  others: readonly Other[];
  /** tags of what is no sign, with the words: oxygen that was turned up */
  tags: readonly (readonly [string, string])[];
  /** flags that the tests of the line have: 'tired' in the clause of one is a flag and no sign */
  held: ReadonlyMap<string, readonly Pick<Taken, 'at' | 'end'>[]>;
  /** the line */
  text: string;
}

export function signsSaid(
  concepts: readonly Concept<SignWords>[],
  { child, grown, disease, others, tags, held, text }: SignsOf,
  words: Vocabulary,
): SignsSaid {
  const said: SignsSaid = {
    signs: {},
    because: {},
    assumed: [],
    dangers: [],
    flags: new Set(),
    uses: new Set(),
    noted: [],
    tags: new Map(tags),
    mentioned: [],
    strange: [],
    onlyFlags: [],
    assumesChild: false,
  };
  const sorted = [...concepts].sort((a, b) => a.at - b.at);
  for (const concept of sorted) {
    const { what } = concept;
    if (!concept.negated && wasOnce(concept, text, words)) said.noted.push(concept.typed);
    else if (what.once && !concept.negated && longAgo(words).test(clauseOf(concept, text)))
      said.noted.push(concept.typed);
    else if (
      what.flagFirst !== undefined &&
      held.get(what.flagFirst)?.some((test) => inOneClause(concept, test, text)) &&
      !sorted.some((other) => other !== concept && standBeside(concept, other, text, words))
    ) {
      said.onlyFlags.push(concept);
      if (!concept.negated) said.flags.add(what.flagFirst);
    } else if (what.childOnly && !child && (grown || what.childOnly === 'needs')) said.strange.push(concept);
    else addSign(said, concept, child || what.childOnly !== undefined);
    if (what.childOnly === 'tells' && !child && !grown && !concept.negated) said.assumesChild = true;
  }
  addTogether(said, disease, others, words);
  addInDisease(said, disease, words);
  return said;
}

const onceSo = madeOnce(({ time, negation, filled, phrase }) => ({
  before: new RegExp(`(?<![a-z])(?:${filled(time.usedTo)}) (?:(?:${filled(negation.light)}) )*$`),
  still: phrase(time.stillSo),
}));

/** 'used to drool': it was so, and nothing says that it still is. */
const wasOnce = ({ at, end }: Concept<SignWords>, text: string, words: Vocabulary): boolean =>
  onceSo(words).before.test(text.slice(0, at)) && !onceSo(words).still.test(text.slice(end));

const joins = madeOnce(({ negation }) => new RegExp(`^[ |]*(?:${negation.and})?[ |]*$`));

/** 'fvc 47 tired weak cough': among other signs it is one of them. */
const standBeside = (one: Taken, other: Taken, text: string, words: Vocabulary): boolean =>
  (one.end <= other.at && joins(words).test(text.slice(one.end, other.at))) ||
  (other.end <= one.at && joins(words).test(text.slice(other.end, one.at)));

const longAgo = madeOnce(({ time, phrase }) => phrase(time.longAgo));

/** Present outweighs absent, whichever was typed first. */
function addSign(said: SignsSaid, concept: Concept<SignWords>, child: boolean): void {
  const { what, typed, negated } = concept;
  if (what.tag !== undefined && !negated && !said.tags.has(what.tag)) said.tags.set(what.tag, typed);
  const { yes, no = [] } = child && what.child ? what.child : what;
  const present = what.healthy ? (negated ? yes : []) : negated ? [] : yes;
  const absent = what.healthy ? (negated ? [] : yes) : negated ? no : [];
  for (const id of absent)
    if (said.signs[id] === undefined) {
      said.signs[id] = 'absent';
      said.because[id] = typed;
    }
  for (const id of present)
    if (said.signs[id] !== 'present') {
      said.signs[id] = 'present';
      said.because[id] = typed;
    }
  if (what.danger !== undefined && yes.length === 0 && !negated) {
    // An emergency that is no sign of the person's: a tube that came out.
    said.dangers.push({ page: what.danger, typed });
    return;
  }
  if (present.length + absent.length === 0) {
    if (what.tag !== undefined && !negated) said.mentioned.push(concept);
    else if (negated || what.fine) said.noted.push(typed);
    else said.strange.push(concept);
  }
  if (present.length === 0) return;
  if (what.as !== undefined) said.assumed.push(`\u201c${typed}\u201d read as ${what.as}`);
  if (what.danger !== undefined) said.dangers.push({ page: what.danger, typed, as: what.as });
  if (what.flag !== undefined) said.flags.add(what.flag);
  if (what.uses !== undefined) said.uses.add(what.uses);
}

function addInDisease(said: SignsSaid, disease: Disease | undefined, { signsInDisease }: Vocabulary): void {
  for (const { disease: its, of, yes, as, absentToo } of signsInDisease) {
    const denied = absentToo && its === disease ? of.find((id) => said.signs[id] === 'absent') : undefined;
    if (denied !== undefined && said.signs[yes] === undefined) {
      said.signs[yes] = 'absent';
      said.because[yes] = said.because[denied] ?? '';
    }
    const from = its === disease ? of.find((id) => said.signs[id] === 'present') : undefined;
    if (from === undefined || said.signs[yes] === 'present') continue;
    said.signs[yes] = 'present';
    const typed = said.because[from] ?? '';
    said.because[yes] = typed;
    said.assumed.push(`\u201c${typed}\u201d read as ${as}`);
  }
}

/** 'on steroids ... vomiting': what neither word says alone. */
function addTogether(
  said: SignsSaid,
  disease: Disease | undefined,
  others: readonly Other[],
  { together }: Vocabulary,
): void {
  const used = new Set<string>();
  for (const { diseases, tags, other, yes, as, danger } of together) {
    if (diseases !== undefined && (disease === undefined || !diseases.includes(disease))) continue;
    const typed = tags.flatMap((tag) => said.tags.get(tag) ?? []);
    const number = other && numberSaid(others, other);
    if (typed.length < tags.length || (other !== undefined && number === undefined)) continue;
    for (const tag of tags) used.add(tag);
    const because = [...typed, ...(number === undefined ? [] : [number])].join(' + ');
    for (const id of yes)
      if (said.signs[id] !== 'present') {
        said.signs[id] = 'present';
        said.because[id] = because;
      }
    if (as !== undefined) said.assumed.push(`\u201c${because}\u201d read as ${as}`);
    if (danger !== undefined && !said.dangers.some(({ page }) => page === danger))
      said.dangers.push({ page: danger, typed: because, as });
  }
  for (const concept of said.mentioned) {
    if (concept.what.tag !== undefined && used.has(concept.what.tag)) said.noted.push(concept.typed);
    else said.strange.push(concept);
  }
}

const numberSaid = (
  others: readonly Other[],
  { label, from = Number.NEGATIVE_INFINITY, to = Number.POSITIVE_INFINITY }: NonNullable<TogetherWords['other']>,
): string | undefined => {
  const found = others.find(
    (one) => one.label === label && one.value !== undefined && one.value >= from && one.value <= to,
  );
  return found && `${found.label} ${found.typed}`;
};
