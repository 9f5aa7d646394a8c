/** The one place that knows the search engine. */

export interface Hit {
  url: string;
  title: string;
  /** our own text, with the words found marked up by the engine */
  excerpt: string;
}

interface Engine {
  options: (options: { baseUrl: string }) => Promise<void>;
  init: () => Promise<void>;
  search: (
    query: string,
  ) => Promise<{ results: { data: () => Promise<{ url: string; excerpt: string; meta: { title?: string } }> }[] }>;
}

let loading: Promise<Engine> | undefined;

/** Fetch the engine and its index ahead of the first query. */
export function warm(base: string): Promise<Engine> {
  loading ??= import(/* @vite-ignore */ `${base}pagefind/pagefind.js`).then(async (engine: Engine) => {
    await engine.options({ baseUrl: base });
    await engine.init();
    return engine;
  });
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

/** @returns the hits of a query, best first, each still to be fetched: show each as it arrives */
export async function search(base: string, query: string, most: number): Promise<Promise<Hit>[]> {
  const engine = await warm(base);
  const { results } = await engine.search(query);
  return results.slice(0, most).map(async (result) => {
    const { url, excerpt, meta } = await result.data();
    return { url, excerpt, title: meta.title ?? url };
  });
}
