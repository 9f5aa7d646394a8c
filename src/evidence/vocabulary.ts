/** The words that the search understands, from content/words/. A word that names what there is not stops the build. */
import { getCollection } from 'astro:content';
import { headingsOf, readWords } from '../build/read-words.ts';
import { decisions, measures } from './evidence.ts';

const texts = Object.fromEntries((await getCollection('words')).map(({ id, data }) => [id, data.text]));
const pages = (await getCollection('handbook')).map(({ id, body = '' }) => [`/${id}/`, headingsOf(body)] as const);

export const words = readWords(texts, {
  measures,
  decisions: new Set(Object.keys(decisions)),
  pages: new Map(pages),
});
