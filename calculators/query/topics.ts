/** Subjects of a line that have a page, and what a question in it asks for. */
import type { Disease } from '../domain/diseases.ts';
import type { Topic } from './asked.ts';
import { execWhere } from './beginnings.ts';
import { takeDiseases } from './person.ts';
import { scanner, type Taken } from './text.ts';
import { madeOnce, type TopicWords, type Vocabulary } from './vocabulary.ts';

/** The address of a heading inside its page: as the site makes it. Worked out here, it need not be sent. */
export const anchorOf = (heading: string): string =>
  heading
    .toLowerCase()
    .replace(/[^a-z0-9 -]/g, '')
    .replaceAll(' ', '-');

const patterns = madeOnce(({ asking, phrase }) => ({ asking: phrase(asking) }));

const made = new WeakMap<readonly TopicWords[], ReturnType<typeof subjectsOf>>();
const subjectsOf = ({ topics, phrase }: Vocabulary) =>
  topics.map(({ words, ...topic }) => ({
    topic: topic.section === undefined ? topic : { ...topic, anchor: anchorOf(topic.section) },
    pattern: phrase(words),
  }));

/** Made once for these subjects: they may come after the other words. */
function subjects(words: Vocabulary): ReturnType<typeof subjectsOf> {
  const known = made.get(words.topics) ?? subjectsOf(words);
  made.set(words.topics, known);
  return known;
}

export type FoundTopic = Topic & Taken;

/** In the order of the line; of two about the same words the longer. Nothing is taken from the line for it. */
export function topicsIn(text: string, words: Vocabulary): FoundTopic[] {
  const found = subjects(words).flatMap(({ topic, pattern }) => {
    const match = execWhere(pattern, text);
    return match ? [{ ...topic, typed: match[0], at: match.index, end: match.index + match[0].length }] : [];
  });
  const disease = found.some(({ forDisease, saysFor }) => forDisease ?? saysFor) ? diseaseIn(text, words) : undefined;
  return found
    .map(({ forDisease = {}, saysFor = {}, says, ...topic }) => ({
      ...topic,
      page: (disease && forDisease[disease]) ?? topic.page,
      says: (disease && saysFor[disease]) ?? says,
    }))
    .filter(
      (one, _, all) =>
        !all.some(
          (other) =>
            other !== one &&
            other.at <= one.at &&
            other.end >= one.end &&
            (other.end - other.at > one.end - one.at || all.indexOf(other) < all.indexOf(one)),
        ),
    )
    .sort((a, b) => a.at - b.at);
}

const diseaseIn = (text: string, words: Vocabulary): Disease | undefined =>
  takeDiseases(scanner(text, words)).flatMap(({ what }) => (what.kind === 'disease' ? [what.disease] : []))[0];

/** Whether the line has the word of a question. */
export const isQuestion = (text: string, words: Vocabulary): boolean => patterns(words).asking.test(text);

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
