/** The words that the search understands, from content/words/. A word that names what there is not stops the build. */
import { getCollection } from 'astro:content';
import type { TopicWords } from '../../calculators/query/vocabulary.ts';
import { headingsOf, readWords } from '../build/read-words.ts';
import { decisions, measures } from './evidence.ts';
import { fillNumbers } from './fill-numbers.ts';

const texts = Object.fromEntries((await getCollection('words')).map(({ id, data }) => [id, data.text]));
const pages = (await getCollection('handbook')).map(({ id, body = '' }) => [`/${id}/`, headingsOf(body)] as const);

const read = readWords(texts, {
  measures,
  decisions: new Set(Object.keys(decisions)),
  pages: new Map(pages),
});

const filled = ({ says, saysFor, ...topic }: TopicWords): TopicWords => ({
  ...topic,
  ...(says === undefined ? {} : { says: fillNumbers(says) }),
  ...(saysFor === undefined
    ? {}
    : {
        saysFor: Object.fromEntries(
          Object.entries(saysFor).map(([disease, words]) => [disease, fillNumbers(words)] as const),
        ),
      }),
});

/** Subjects with a page, with their sentences filled in: in a file of their own. */
export const subjects: TopicWords[] = read.topics.map(filled);
/** The words without the subjects. */
export const words = { ...read, topics: [] };
