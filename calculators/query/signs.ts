/** Signs that the words of a line name, present or absent. */

import type { Disease } from '../domain/person.ts';
import type { Sign } from '../domain/visit.ts';
import type { Danger } from './asked.ts';
import { type Concept, takeConcepts } from './concepts.ts';
import type { Scanner } from './text.ts';
import { madeOnce, type SignWords, type Vocabulary } from './vocabulary.ts';

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
  /** words about a child in a line about a grown-up */
  strange: Concept<SignWords>[];
  /** words that were only the flag of a test */
  onlyFlags: Concept<SignWords>[];
  /** a sign of a child was said, and nothing else about age */
  assumesChild: boolean;
}

export interface AgeSaid {
  child: boolean;
  grown: boolean;
}

/** @param held  flags that the tests of the line have: 'tired' beside one is a flag and no sign */
export function signsSaid(
  concepts: readonly Concept<SignWords>[],
  { child, grown }: AgeSaid,
  disease: Disease | undefined,
  held: ReadonlySet<string>,
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
    strange: [],
    onlyFlags: [],
    assumesChild: false,
  };
  for (const concept of [...concepts].sort((a, b) => a.at - b.at)) {
    const { what } = concept;
    if (what.flagFirst !== undefined && held.has(what.flagFirst)) {
      said.onlyFlags.push(concept);
      if (!concept.negated) said.flags.add(what.flagFirst);
    } else if (what.childOnly && !child && (grown || what.childOnly === 'needs')) said.strange.push(concept);
    else addSign(said, concept, child || what.childOnly !== undefined);
    if (what.childOnly === 'tells' && !child && !grown && !concept.negated) said.assumesChild = true;
  }
  addInDisease(said, disease, words);
  return said;
}

/** Present outweighs absent, whichever was typed first. */
function addSign(said: SignsSaid, concept: Concept<SignWords>, child: boolean): void {
  const { what, typed, negated } = concept;
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
  if (present.length + absent.length === 0) {
    if (negated || what.fine) said.noted.push(typed);
    else said.strange.push(concept);
  }
  if (present.length === 0) return;
  if (what.as !== undefined) said.assumed.push(`\u201c${typed}\u201d read as ${what.as}`);
  if (what.danger !== undefined) said.dangers.push({ page: what.danger, typed });
  if (what.flag !== undefined) said.flags.add(what.flag);
  if (what.uses !== undefined) said.uses.add(what.uses);
}

function addInDisease(said: SignsSaid, disease: Disease | undefined, { signsInDisease }: Vocabulary): void {
  for (const { disease: its, of, yes, as } of signsInDisease) {
    const from = its === disease ? of.find((id) => said.signs[id] === 'present') : undefined;
    if (from === undefined || said.signs[yes] === 'present') continue;
    said.signs[yes] = 'present';
    const typed = said.because[from] ?? '';
    said.because[yes] = typed;
    said.assumed.push(`\u201c${typed}\u201d read as ${as}`);
  }
}
