/**
 * What the words of a line name (a sign, a support, oxygen, a disease, whose line it is), each with its place, and whether it
 * is negated. A negation reaches the next thing named, with nothing but light words between, and goes on over 'or'. A comma,
 * 'and', 'but' or any other word ends it: read as present is the safer mistake, and it is said.
 */
import { execWhere } from './beginnings.ts';
import type { Scanner, Taken } from './text.ts';
import { madeOnce } from './vocabulary.ts';

export interface Concept<T> extends Taken {
  what: T;
  /** a heading of what follows: 'GBS: no bulbar signs' denies the signs and not the disease */
  heads?: boolean;
  /** 'baby gone floppy': whose line it is, which nothing after it denies */
  whose?: boolean;
  /** can be negated by 'off' and the like */
  stops?: boolean;
  negated?: boolean;
  /** answered with a yes: 'peg: yes' */
  affirmed?: boolean;
}

/** Everything that a table of patterns finds, each taken out of the line. */
export function takeConcepts<T>(scan: Scanner, table: readonly { pattern: RegExp; what: T }[]): Concept<T>[] {
  return table.flatMap(({ pattern, what }) => {
    const found: Concept<T>[] = [];
    for (
      let match = execWhere(pattern, scan.rest);
      match && match[0].trim() !== '';
      match = execWhere(pattern, scan.rest)
    ) {
      const lead = match[0].length - match[0].trimStart().length;
      found.push({ ...scan.cut(match.index + lead, match.index + match[0].trimEnd().length), what });
    }
    return found;
  });
}

const patterns = madeOnce(({ negation, filled }) => {
  const light = `(?:(?:${filled(negation.light)}) )*`;
  const before = (words: string): RegExp => new RegExp(`(?<![a-z0-9])(?:${filled(words)})[ -]${light}$`);
  const verbs = `(?:(?:${negation.goneVerbs}) )*`;
  const end = filled('(?:;|$|(?:PASSED)(?![a-z]))');
  const { deniedAfter, goneAfter, stoppedAfter, affirmedAfter } = negation;
  return {
    negation: before(negation.before),
    stopping: before(`${negation.before}|${negation.stopping}`),
    leads: new RegExp(`^(?:${filled(negation.before)})[ -]`),
    denying: new RegExp(`^(?:${negation.denying})(?![a-z])`),
    noun: new RegExp(`^(?:${filled(negation.nouns)})$`),
    /** 'denies itching or headaches': what comes first need not be known */
    denyingOther: new RegExp(`(?<![a-z0-9])(?:${negation.denying}) (?:[a-z]+ ){1,3}(?:${negation.or}) ${light}$`),
    lastListed: new RegExp(`^[ ;]*(?:${negation.or}) ?${light}$`),
    lastAnd: new RegExp(`^[ ;]*(?:${negation.and}) ?${light}$`),
    alone: new RegExp(`(?<![a-z0-9])(?:${filled(negation.alone)})`),
    /** 'denies headache sob and orthopnoea' */
    next: /^ ?$/,
    onward: new RegExp(`^ ?(?:${negation.or}) ?${light}$`),
    listed: new RegExp(`^ ?(?:;|${negation.and}|\\+)+ ?(?:(?:${negation.and}) ?)?$`),
    answeredNo: new RegExp(
      `^(?: : (?:${deniedAfter}|${goneAfter})| ; (?:${filled(negation.noneSince)})| ${verbs}(?:${goneAfter})| (?:${deniedAfter})(?= ?${end}))(?![a-z])`,
    ),
    answeredOff: new RegExp(`^ (?:${stoppedAfter})(?![a-z])`),
    answeredYes: new RegExp(`^(?: : (?:${affirmedAfter})(?![a-z])| (?:${affirmedAfter})(?= ?${end}))`),
  };
});

/**
 * Says of each whether it is negated, and takes the words that say so.
 * @returns the names that follow a negation in a list and were not reached by it
 */
export function negate(concepts: readonly Concept<unknown>[], scan: Scanner): Concept<unknown>[] {
  const { onward, listed } = patterns(scan.words);
  const unreached: Concept<unknown>[] = [];
  let last: Concept<unknown> | undefined;
  const sorted = [...concepts].sort((a, b) => a.at - b.at);
  for (const concept of sorted) {
    const between = last === undefined ? '' : scan.rest.slice(last.end, concept.at);
    concept.negated = isNegated(concept, scan);
    if (!concept.negated && last?.negated && onward.test(between)) {
      concept.negated = true;
      scan.cut(last.end, concept.at);
    } else if (!concept.negated && last?.negated && listed.test(between)) unreached.push(concept);
    last = concept;
  }
  const reached = denyLists(sorted, scan);
  return unreached.filter((one) => !reached.includes(one));
}

/**
 * 'denies headache, sleepiness or choking', 'no headache, sleepiness or fatigue': all three. Of a list without 'or' at its end,
 * or of other words, the first alone; only 'denies' also goes over 'and'. A word for an emergency is reached only by 'denies'
 * with 'or': elsewhere it is read as present, and that is said.
 */
function denyLists(concepts: readonly Concept<unknown>[], scan: Scanner): Concept<unknown>[] {
  const { denying, leads, noun, lastListed, lastAnd, listed, next, alone } = patterns(scan.words);
  const reached: Concept<unknown>[] = [];
  for (const [first, concept] of concepts.entries()) {
    const denies = denying.test(concept.typed);
    if (!concept.negated || !isSign(concept) || !(denies || leads.test(concept.typed))) continue;
    for (let at = first + 1; at < concepts.length; at++) {
      const [before, one] = [concepts[at - 1], concepts[at]];
      if (!before || !one || one.negated || !noun.test(one.typed) || !isSign(one)) break;
      const between = scan.rest.slice(before.end, one.at);
      const all = concepts.slice(first + 1, at + 1);
      const sure = !all.some(({ typed }) => alone.test(typed));
      if ((lastListed.test(between) && (denies || sure)) || (denies && sure && lastAnd.test(between))) {
        for (const member of all) member.negated = true;
        scan.cut(before.end, one.at);
        reached.push(...all);
      }
      if (!listed.test(between) && !(denies && next.test(between))) break;
    }
  }
  return reached;
}

/** 'no ventilation, headaches or breathlessness' and 'without NIV and chest pain' deny the ventilation alone. */
const isSign = ({ what }: Concept<unknown>): boolean => typeof what === 'object' && what !== null && 'yes' in what;

function isNegated(concept: Concept<unknown>, scan: Scanner): boolean {
  const { negation, stopping, denyingOther, noun, answeredNo, answeredOff, answeredYes } = patterns(scan.words);
  const pattern = concept.stops ? stopping : negation;
  if (noun.test(concept.typed) && denyingOther.test(scan.rest.slice(0, concept.at))) return true;
  let negated = false;
  // Twice is not at all: 'not without a headache'.
  for (
    let found = pattern.exec(scan.rest.slice(0, concept.at));
    found;
    found = pattern.exec(scan.rest.slice(0, concept.at))
  ) {
    concept.typed = scan.text.slice(found.index, concept.end);
    concept.at = found.index;
    scan.cut(found.index, concept.end);
    negated = !negated;
  }
  const after = scan.rest.slice(concept.end);
  const heads = concept.heads === true && /^ : [a-z]+ +[^ ;]/.test(after);
  const no =
    heads || concept.whose ? null : (answeredNo.exec(after) ?? (concept.stops ? answeredOff.exec(after) : null));
  const yes = no ?? answeredYes.exec(after);
  if (yes) {
    concept.end += yes[0].length;
    scan.cut(concept.at, concept.end);
  }
  if (yes && !no && !negated) concept.affirmed = true;
  return no ? true : negated;
}
