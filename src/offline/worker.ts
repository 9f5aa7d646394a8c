/// <reference lib="webworker" />
/**
 * The offline worker: every file of one build, in one cache, or nothing.
 *
 * The build writes its file list into this text (src/build/offline.ts); addresses are relative, so the site works under
 * any folder. Installing copies what has not changed from the cache of the build before. The new worker waits until a
 * page asks it to take over; only then do older caches go.
 */
declare const self: ServiceWorkerGlobalScope;

interface ListedFile {
  url: string;
  /** of the content; null where the name itself holds a hash */
  revision: string | null;
}

const files: ListedFile[] = /* FILES */ [];

const scope = new URL(self.registration.scope);
/** Several sites can share an origin: the folder is part of the name. */
const prefix = `tidemark:${scope.pathname}:`;
const cacheName = prefix + hash(files.map((file) => `${file.url}=${file.revision}`).join('\n'));
const addressOf = (file: ListedFile): string => new URL(file.url, scope).href;
/** Where a copy says which content it is, so that the next build can keep it. */
const revisionHeader = 'x-tidemark-revision';

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('message', (event) => {
  if (event.data === 'take-over') void self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method === 'GET' && url.origin === scope.origin && url.pathname.startsWith(scope.pathname))
    event.respondWith(answer(event.request, url));
});

async function install(): Promise<void> {
  const cache = await caches.open(cacheName);
  const have = new Set((await cache.keys()).map((request) => request.url));
  const missing = files.filter((file) => !have.has(addressOf(file)));
  const earlier = await earlierCopies();
  let done = files.length - missing.length;
  // A few at a time: a phone on a weak signal finishes some files instead of starting all.
  const queue = [...missing];
  const next = async (): Promise<void> => {
    for (let file = queue.shift(); file; file = queue.shift()) {
      await store(cache, file, earlier);
      done += 1;
      if (done % 5 === 0 || done === files.length) await tell({ kind: 'installing', done, of: files.length });
    }
  };
  await Promise.all(Array.from({ length: 6 }, next));
  await tell({ kind: 'installed', done: files.length, of: files.length });
}

async function store(cache: Cache, file: ListedFile, earlier: Map<string, Response>): Promise<void> {
  const address = addressOf(file);
  const mark = file.revision ?? file.url;
  const kept = earlier.get(`${file.url}=${mark}`);
  if (kept) return cache.put(address, kept);
  const response = await fetch(new Request(address, { cache: 'no-cache' }));
  if (!response.ok) throw new Error(`${address} answered ${response.status}`);
  const headers = new Headers(response.headers);
  headers.set(revisionHeader, mark);
  // A response that followed a redirect may not answer a navigation: wrap it anew.
  return cache.put(address, new Response(await response.blob(), { status: 200, headers }));
}

async function earlierCopies(): Promise<Map<string, Response>> {
  const found = new Map<string, Response>();
  for (const name of await caches.keys()) {
    if (!name.startsWith(prefix) || name === cacheName) continue;
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const response = await cache.match(request);
      const mark = response?.headers.get(revisionHeader);
      if (response && mark) found.set(`${request.url.slice(scope.href.length)}=${mark}`, response);
    }
  }
  return found;
}

async function activate(): Promise<void> {
  for (const name of await caches.keys()) if (name.startsWith(prefix) && name !== cacheName) await caches.delete(name);
  await self.clients.claim();
}

async function answer(request: Request, url: URL): Promise<Response> {
  const cache = await caches.open(cacheName);
  // Queries are ours to ignore: searches, and the retry marks that loaders add to a script's address.
  const plain = url.origin + url.pathname;
  for (const address of [plain, plain.endsWith('/') ? `${plain}index.html` : `${plain}/index.html`]) {
    const copy = await cache.match(address);
    if (copy) return copy;
  }
  try {
    return await fetch(request);
  } catch {
    const missing = await cache.match(new URL('404.html', scope).href);
    if (missing && request.mode === 'navigate')
      return new Response(await missing.blob(), { status: 404, headers: missing.headers });
    return Response.error();
  }
}

async function tell(message: object): Promise<void> {
  for (const client of await self.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
}

/** Short and stable; it only has to tell two builds apart. */
function hash(text: string): string {
  let h = 0x811c9dc5;
  let g = 0x1b873593;
  for (let at = 0; at < text.length; at += 1) {
    h = Math.imul(h ^ text.charCodeAt(at), 0x01000193);
    g = Math.imul(g ^ text.charCodeAt(at), 0x85ebca6b) ^ (h >>> 13);
  }
  return (h >>> 0).toString(36) + (g >>> 0).toString(36);
}
