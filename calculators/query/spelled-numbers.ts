/**
 * Numbers that are written as words, made into digits before anything else is read: 'forty five', 'one point nine litres'. A
 * weight in stones becomes one in pounds.
 */
import { madeOnce, type Vocabulary } from './vocabulary.ts';

const poundsInStone = 14;

const patterns = madeOnce(({ spelled, phrase }) => {
  const listed = (words: Record<string, number>): string =>
    Object.keys(words)
      .sort((a, b) => b.length - a.length)
      .join('|');
  const ones = listed(spelled.ones);
  const tens = listed(spelled.tens);
  const teens = listed(spelled.teens);
  const below100 = `(?:(?:${tens})(?:[ -](?:${ones}))?|${teens})`;
  const and = `(?: (?:${spelled.and}))?`;
  return {
    decimals: phrase(
      `(?:${below100}|${ones}|\\d+) (?:${spelled.point})((?: (?:${ones}|${listed(spelled.nought)}|\\d))+)`,
    ),
    glued: phrase(`(?:${tens})(?:${ones})`),
    glue: new RegExp(`^(?:${tens})`),
    hundreds: phrase(
      `(?:${ones}|a) (?:${spelled.hundred})(?:${and} (?:${below100}|${ones}))?|(?:${ones}) (?:${below100})`,
    ),
    below100: phrase(below100),
    /** a digit alone counts only beside what is counted: 'no one', 'one side' and 'two pillows' stay words */
    counted: phrase(
      `(?:${ones})(?=[ -]?(?:${spelled.counted})(?![a-z]))|(?<=(?<![a-z])(?:${spelled.counting}) )(?:${ones})`,
    ),
    and: phrase(spelled.and),
    hundred: phrase(spelled.hundred),
    point: phrase(spelled.point),
    stone: new RegExp(
      `(?<![\\d.,])(\\d{1,2}) ?(?:${spelled.stone})(?: ?(\\d{1,2})(?![\\d.,])(?: ?(?:lbs?|pounds?))?)?(?![a-z0-9])`,
      'g',
    ),
    minus: new RegExp(`(?<![a-z0-9])(?:${spelled.minus}) (?=\\d)`, 'g'),
  };
});

export function withDigits(text: string, words: Vocabulary): string {
  if (!/[a-z]/.test(text)) return text;
  const made = patterns(words);
  const { ones, teens, tens, nought } = words.spelled;
  const digit = (word: string): number | undefined => ones[word] ?? nought[word];
  const small = (said: string): number =>
    said
      .split(/[ -]/)
      .reduce(
        (sum, word) => sum + (tens[word] ?? teens[word] ?? ones[word] ?? (/^\d+$/.test(word) ? Number(word) : 0)),
        0,
      );
  const all = (pattern: RegExp): RegExp => new RegExp(pattern.source, 'g');
  return text
    .replace(all(made.glued), (said) => said.replace(made.glue, '$& '))
    .replace(all(made.decimals), (said) => {
      const [whole = '', after = ''] = said.split(made.point);
      const figures = after
        .trim()
        .split(' ')
        .map((word) => digit(word) ?? word)
        .join('');
      return `${small(whole.trim())}.${figures}`;
    })
    .replace(all(made.hundreds), (said) => {
      const [first = '', ...rest] = said.split(/[ -]/);
      const below = rest.filter((word) => !made.hundred.test(word) && !made.and.test(word)).join(' ');
      return String((first === 'a' ? 1 : small(first)) * 100 + small(below));
    })
    .replace(all(made.below100), (said) => String(small(said)))
    .replace(all(made.counted), (said) => String(small(said)))
    .replace(made.minus, '-')
    .replace(made.stone, (_, stone, pounds) => `${Number(stone) * poundsInStone + Number(pounds ?? 0)} lb`);
}
