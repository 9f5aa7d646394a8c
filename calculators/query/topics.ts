/** Subjects of a line that have a page, and what a question in it asks for. */
import type { Topic } from './asked.ts';
import { execWhere } from './beginnings.ts';
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

const patterns = madeOnce(({ topics, asking, phrase }) => ({
  topics: topics.map(({ words, ...topic }) => ({ topic, pattern: phrase(words) })),
  asking: phrase(asking),
}));

export type FoundTopic = Topic & Taken;

/** In the order of the line; of two about the same words the longer. Nothing is taken from the line for it. */
export function topicsIn(text: string, words: Vocabulary): FoundTopic[] {
  const found = patterns(words).topics.flatMap(({ topic, pattern }) => {
    const match = execWhere(pattern, text);
    return match ? [{ ...topic, typed: match[0], at: match.index, end: match.index + match[0].length }] : [];
  });
  return found
    .filter(
      (one) =>
        !found.some(
          (other) =>
            other !== one &&
            other.at <= one.at &&
            other.end >= one.end &&
            (other.end - other.at > one.end - one.at || found.indexOf(other) < found.indexOf(one)),
        ),
    )
    .sort((a, b) => a.at - b.at);
}

/** What was not understood and comes after the word of a question: to be looked up among the pages. */
export function askedIn(text: string, unused: readonly Taken[], words: Vocabulary): { asked: Taken[]; left: Taken[] } {
  const { asking } = patterns(words);
  const question = asking.exec(text);
  if (!question) return { asked: [], left: [...unused] };
  const stop = text.indexOf(' ; ', question.index);
  const asks = ({ at, typed }: Taken): boolean => at >= question.index && (stop < 0 || at < stop) && !/\d/.test(typed);
  return {
    asked: unused.filter((one) => asks(one) && !asking.test(one.typed)),
    left: unused.filter((one) => !asks(one)),
  };
}
