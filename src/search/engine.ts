/** The one place that knows the full-text engine. */
import { wordsOf } from './rank.ts';

export interface Hit {
  url: string;
  title: string;
  /** our own text, with the words found marked up by the engine; empty where it would tell of an invented person */
  excerpt: string;
}

interface Result {
  id: string;
  data: () => Promise<{ url: string; excerpt: string; meta: { title?: string } }>;
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
export async function search(base: string, query: string, most: number): Promise<Hit[]> {
  const engine = await warm(base);
  const words = wordsOf(query);
  let { results } = await engine.search(words.join(' '));
  if (results.length < 3 && words.length > 1) results = [...results, ...(await byMostWords(engine, words))];
  const seen = new Set<string>();
  const best = results.filter(({ id }) => !seen.has(id) && seen.add(id)).slice(0, most);
  const hits = await Promise.all(
    best.map(async (result): Promise<Hit> => {
      const { url, excerpt, meta } = await result.data();
      return { url, excerpt, title: meta.title ?? url };
    }),
  );
  return hits
    .filter((hit) => holdsOne(hit, words))
    .map((hit) => (tellsOfExamples.test(hit.url) ? { ...hit, excerpt: '' } : hit));
}

/** Lessons and cases tell of invented people: their numbers must not stand under someone's own reading. */
const tellsOfExamples = /\/learn\/./;

/** For a word that is nowhere the engine offers pages with its first letter: that is nothing found. */
function holdsOne({ excerpt, title }: Hit, words: readonly string[]): boolean {
  const held = [...excerpt.matchAll(/<mark>([^<]+)<\/mark>/g)].flatMap(([, marked = '']) => wordsOf(marked));
  const there = [...held, ...wordsOf(title)];
  return words.some((word) =>
    there.some((one) => one.startsWith(word.slice(0, 4)) || (one.length > 2 && word.startsWith(one))),
  );
}

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
