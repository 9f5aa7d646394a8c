/** Small tools for putting words together. */

/** 'a, b and c' */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** Names of people stay as they are. */
const names = /^(Norris|Duchenne|Becker|Guillain|Pompe|Charcot|Kennedy|Lambert)/;

/** The first word in lower case, unless it is a short form such as 'PaCO2' or a name. */
export const lowerFirst = (words: string): string =>
  /^[A-Z][a-z]*\b/.test(words) && !/^[A-Z]-/.test(words) && !names.test(words)
    ? words.charAt(0).toLowerCase() + words.slice(1)
    : words;

export const upperFirst = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** With a full stop at its end, unless it has one or another such sign. */
export const closed = (words: string): string => (/[.!?:]$/.test(words) ? words : `${words}.`);
