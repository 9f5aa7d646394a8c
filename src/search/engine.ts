/** The one place that knows the full-text engine. */
import type { WordsOf } from './rank.ts';

export interface Hit {
  /** of the section that holds the words, where its page has sections */
  url: string;
  title: string;
  section: string;
  /** our own text, with the words found marked up by the engine; empty where it would tell of an invented person */
  excerpt: string;
}

interface Section {
  title: string;
  url: string;
  excerpt: string;
  locations: number[];
}

interface Result {
  id: string;
  data: () => Promise<{ url: string; excerpt: string; meta: { title?: string }; sub_results: Section[] }>;
}

interface Engine {
  options: (options: { baseUrl: string; ranking: { pageLength: number } }) => Promise<void>;
  init: () => Promise<void>;
  search: (query: string) => Promise<{ results: Result[] }>;
}

let loading: Promise<Engine> | undefined;

/** Fetch the engine and its index ahead of the first query. */
export function warm(base: string): Promise<Engine> {
  loading ??= import(/* @vite-ignore */ `${base}pagefind/pagefind.js`).then(async (engine: Engine) => {
    // A long handbook page answers more than a short source card that names the same word: length hardly counts against it.
    await engine.options({ baseUrl: base, ranking: { pageLength: 0.1 } });
    await engine.init();
    return engine;
  });
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

/** @returns pages whose text holds the words, best first; where hardly any holds all of them, those that hold most */
export async function search(base: string, query: string, most: number, wordsOf: WordsOf): Promise<Hit[]> {
  const engine = await warm(base);
  const words = wordsOf(query);
  let { results } = await engine.search(words.join(' '));
  if (results.length < 3 && words.length > 1) results = [...results, ...(await byMostWords(engine, words))];
  const seen = new Set<string>();
  const best = results.filter(({ id }) => !seen.has(id) && seen.add(id)).slice(0, most);
  const hits = (await Promise.all(best.map((result) => hitOf(result, wordsOf)))).filter((hit) =>
    holdsOne(hit, words, wordsOf),
  );
  const isSource = ({ url }: Hit) => listsSources.test(url);
  return [...hits.filter((hit) => !isSource(hit)), ...hits.filter(isSource)].map((hit) =>
    tellsOfExamples.test(hit.url) ? { ...hit, excerpt: '' } : hit,
  );
}

/** The page at the section that holds most of the words; the first of them, where several do. */
async function hitOf(result: Result, wordsOf: WordsOf): Promise<Hit> {
  const { url, excerpt, meta, sub_results: sections } = await result.data();
  const page = { url, excerpt, title: meta.title ?? url, section: '' };
  const [best] = sections
    .filter((one) => one.url.includes('#'))
    .map((one) => ({ one, held: new Set(markedWords(one.excerpt, wordsOf)).size }))
    .sort((a, b) => b.held - a.held || b.one.locations.length - a.one.locations.length);
  // What stands before the first section is the answer of the page.
  const before = new Set(markedWords(excerpt, wordsOf)).size;
  return best && best.held >= before
    ? { ...page, url: best.one.url, section: best.one.title, excerpt: best.one.excerpt }
    : page;
}

/** Names and numbers of papers: they hold many words and answer nothing. */
const listsSources = /\/(?:sources|evidence)\//;

/** Lessons and cases tell of invented people: their numbers must not stand under someone's own reading. */
const tellsOfExamples = /\/learn\/./;

/** For a word that is nowhere the engine offers pages with its first letter: that is nothing found. */
function holdsOne({ excerpt, title }: Hit, words: readonly string[], wordsOf: WordsOf): boolean {
  const there = [...markedWords(excerpt, wordsOf), ...wordsOf(title)];
  return words.some((word) =>
    there.some((one) => one.startsWith(word.slice(0, 4)) || (one.length > 2 && word.startsWith(one))),
  );
}

const markedWords = (excerpt: string, wordsOf: WordsOf): string[] =>
  [...excerpt.matchAll(/<mark>([^<]+)<\/mark>/g)].flatMap(([, marked = '']) => wordsOf(marked));

async function byMostWords(engine: Engine, words: readonly string[]): Promise<Result[]> {
  const worth = new Map<string, { result: Result; points: number }>();
  for (const word of words.slice(0, 6)) {
    const { results } = await engine.search(word);
    // A word that is on every page tells little about any of them.
    const points = 1 / Math.log2(2 + results.length);
    for (const [place, result] of results.entries()) {
      const before = worth.get(result.id)?.points ?? 0;
      worth.set(result.id, { result, points: before + points * (1 + 1 / (1 + place)) });
    }
  }
  return [...worth.values()].sort((a, b) => b.points - a.points).map(({ result }) => result);
}
