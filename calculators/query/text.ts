/** The typed line as plain text, and a scanner that takes what it finds out of it. */

import { execWhere } from './beginnings.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

/**
 * Small letters, digits and the few signs that units need. A comma, a full stop or 'but' becomes ' ; ', the end of a clause;
 * a colon or a question mark before an answer becomes ' : ', as in 'headache: no'.
 */
export function plain(text: string, words: Vocabulary): string {
  const { answer, clauseEnd } = ends(words);
  const minus = ` ${words.negation.minus} `;
  return (
    text
      .normalize('NFKD')
      // What joins or splits a word unseen goes; what turns the direction of writing becomes a gap further down: '3' and '8'
      // around it may stand as 83 on the screen.
      .replace(/[\p{Mn}\u00ad\u200b-\u200d\u2060\ufeff]/gu, '')
      // In a line with small letters a capital M after a number is a man or a boy; a small one can be months or metres.
      .replace(/(?<![\d.,/-])([3-9]|1\d|2[0-4]) ?M(?![\w/])(?=[\s\S]*[a-z]|(?<=[a-z][\s\S]*))/g, '$1 male')
      .toLowerCase()
      .replace(/[\u2212\u2013\u2014]/g, '-')
      .replace(/(\d)\s*['\u2018\u2019\u2032]\s*(\d{1,2})\s*(?:["\u201d\u2033]|''|in\b)?/g, '$1 ft $2 in ')
      // 'a 70\" man', and not the end of what is quoted.
      .replace(/(?<=^[^"]*(?:"[^"]*"[^"]*)*\d) ?"|(?<=\d) ?\u2033/g, ' in ')
      .replace(/@/g, ' at ')
      // '121#' is 121 lb in American notes.
      .replace(/(?<=\d) ?#(?! ?\d)/g, ' lb ')
      .replace(/n['\u2018\u2019]t\b/g, 'nt')
      .replace(/['\u2018\u2019`]/g, ' ')
      .replace(/\b([a-z])\.(?=[a-z]\b)/g, '$1')
      .replace(/(?<!\d)\.(?=\d)/g, ' 0.')
      // '6.4 (last year 5.8)': what stands in brackets is said of its own number.
      .replace(/\((?=\s*[a-z][^()]*\d)/g, ' ; ')
      .replace(/%/g, ' % ')
      .replace(/\(\s*-\s*\)/g, minus)
      .replace(/(?<![\w/-])-(?=[a-z]{2})(?=[\s\S]*\s\+\s?[a-z]|(?<=(?:^|\s)\+\s?[a-z][\s\S]*))/g, minus)
      // 'sob+ orthopnoea-'
      .replace(/(?<=[a-z]{3})-(?=\s|$)(?=[\s\S]*[a-z]\+(?:\s|$)|(?<=[a-z]\+\s[\s\S]*))/g, ` :${minus}`)
      .replace(answer, ' : ')
      .replace(clauseEnd, ' ; ')
      .replace(/[^a-z0-9.,/%+;:-]+|(?<!\s):|:(?!\s)/g, ' ')
      .replace(/ +/g, ' ')
      // 'woman / 66', and not '7.5 kpa / 28'.
      .replace(/(?<=[a-z]) \/ (?=\d)/g, (slash, at: number, line: string) =>
        slashes(words).gas.test(line.slice(0, at)) ? slash : ' ; ',
      )
      .replace(
        / \/ ([a-z]+)(?: ([a-z]+))?/g,
        (all, first: string, second: string | undefined, at: number, line: string) =>
          spacedSlash(line, at, [first, second], words) + all.slice(3),
      )
      .trim()
  );
}

const ends = madeOnce(({ negation }) => ({
  answer: new RegExp(`\\s*[:?=]+\\s*(?=(?:${negation.answers})\\b)|\\s-+\\s+(?=(?:${negation.answers})\\b)`, 'g'),
  clauseEnd: new RegExp(`,(?!\\d)|(?<!\\d),|\\.(?!\\d)|[;!\\n]|\\b(?:${negation.clauseEnds})\\b`, 'g'),
}));

const slashes = madeOnce(({ negation, manner, numbers, supports, filled }) => ({
  gas: new RegExp(`\\d ?(?:${filled(numbers.gasUnits)})$`),
  denied: new RegExp(`(?<![a-z0-9])(?:${filled(negation.before)}) (?:[a-z]+ ){0,2}([a-z]+)$`),
  noun: new RegExp(`^(?:${filled(negation.nouns)})$`),
  alone: new RegExp(`^(?:${filled(negation.alone)})`),
  support: new RegExp(`(?<![a-z])(?:${supports.map(({ words }) => filled(words)).join('|')})$`),
  posture: new RegExp(`(?<![a-z])(?:${filled(manner.sitting)}|${filled(manner.lying)})$`),
  /** two names, and then two numbers */
  pairs: /^ \/ [a-z][a-z0-9-]*(?: [a-z]+)? -?\d+(?:[.,]\d+)?(?: ?[a-z%]+)? ?\/ ?-?\d/,
}));

/**
 * 'no oxygen / drowsy': with gaps around it a slash ends a clause. 'no headache / sleepiness' goes on with a "no", 'mip / mep
 * 52 / 61' and 'sitting / lying' are pairs.
 */
function spacedSlash(
  line: string,
  at: number,
  [first, second]: [string, string | undefined],
  words: Vocabulary,
): string {
  const { denied, noun, alone, support, posture, pairs } = slashes(words);
  const before = line.slice(0, at);
  if (pairs.test(line.slice(at)) || posture.test(before)) return ' / ';
  const complaint = (one: string) => noun.test(one) && !one.endsWith('ing') && !alone.test(one);
  const said = denied.exec(before)?.[1];
  const goesOn =
    said !== undefined &&
    complaint(said) &&
    !support.test(before) &&
    (complaint(first) || (second !== undefined && complaint(`${first} ${second}`) && !alone.test(first)));
  return goesOn ? ' / ' : ' ; ';
}

export interface Taken {
  at: number;
  end: number;
  typed: string;
}

export interface Scanner {
  /** what the line is read by */
  readonly words: Vocabulary;
  readonly text: string;
  readonly rest: string;
  /** What the pattern finds, which then is no longer there for the next; places in the line stay the same. */
  take: (pattern: RegExp) => RegExpExecArray | null;
  /** Takes a stretch of the line. */
  cut: (at: number, end: number) => Taken;
}

export function scanner(text: string, words: Vocabulary): Scanner {
  let rest = text;
  const cut = (at: number, end: number): Taken => {
    rest = rest.slice(0, at) + '|'.repeat(end - at) + rest.slice(end);
    return {
      at,
      end,
      typed: text
        .slice(at, end)
        .replace(/ ?[;:] ?/g, ' ')
        .trim(),
    };
  };
  return {
    words,
    text,
    get rest() {
      return rest;
    },
    take(pattern) {
      const found = execWhere(pattern, rest);
      if (found) cut(found.index, found.index + found[0].length);
      return found;
    },
    cut,
  };
}

/** Every place where the pattern is found, each taken. */
export function takeAll(scan: Scanner, pattern: RegExp): RegExpExecArray[] {
  const found: RegExpExecArray[] = [];
  for (let match = scan.take(pattern); match && match[0] !== ''; match = scan.take(pattern)) found.push(match);
  return found;
}

/** The same as places in the line. */
export function cutAll(scan: Scanner, pattern: RegExp): Taken[] {
  const found: Taken[] = [];
  for (let match = execWhere(pattern, scan.rest); match && match[0] !== ''; match = execWhere(pattern, scan.rest))
    found.push(scan.cut(match.index, match.index + match[0].length));
  return found;
}

/** The clause that something stands in. */
export function clauseOf({ at, end }: Pick<Taken, 'at' | 'end'>, text: string): string {
  const to = text.indexOf(';', end);
  return text.slice(text.lastIndexOf(';', at) + 1, to < 0 ? undefined : to);
}

export const inOneClause = (a: Pick<Taken, 'at' | 'end'>, b: Pick<Taken, 'at' | 'end'>, text: string): boolean =>
  !text.slice(Math.min(a.end, b.end), Math.max(a.at, b.at)).includes(';');

export const escaped = (words: string): string => words.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
