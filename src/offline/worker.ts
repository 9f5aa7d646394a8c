/// <reference lib="webworker" />
/**
 * The offline worker: every file of one build, in one cache, or nothing.
 *
 * The build writes its file list into this text (src/build/offline.ts), each file with a hash of its content, so that a
 * sign-in page, a half-sent file or a newer version's page is never saved as ours. Addresses are relative: the site works
 * under any folder. A version that was saved whole stays in use until a reader asks for the next one, even if the browser
 * starts this worker sooner; tabs opened before that go on with the files they began with.
 */
const worker = self as unknown as ServiceWorkerGlobalScope;

interface ListedFile {
  url: string;
  /** of the content: the first 12 bytes of its SHA-256, base64url */
  hash: string;
}

interface Version {
  /** name of its cache */
  cache: string;
  version: string;
  built: string;
  files: number;
  bytes: number;
}

/** What the build knows of itself; written in like the list. */
interface Build {
  id: string;
  version: string;
  built: string;
  bytes: number;
}

/**
 * Which version is in use, stored beside the copies so that it outlives this worker. Devices have it stored: do not
 * rename its fields.
 */
interface State {
  current?: Version | undefined;
  /** tabs opened before the last change of version, by client id: the cache they go on with */
  held: Record<string, string>;
}

const files: ListedFile[] = /* FILES */ [];
const build = /* BUILD */ {} as Build;

const scope = new URL(worker.registration.scope);
/** Several sites can share an origin: the folder is part of the name. */
const prefix = `tidemark:${scope.pathname}:`;
const stateCache = `${prefix}state`;
const stateAddress = new URL('offline-state.json', scope).href;
const own: Version = {
  cache: prefix + build.id,
  version: build.version,
  built: build.built,
  files: files.length,
  bytes: build.bytes,
};
const addressOf = (file: ListedFile): string => new URL(file.url, scope).href;
const network = 'network';
const noteAddress = (client: string): string => `${stateAddress}?tab=${client}`;
/** A page that was given out is shown within this time, or hardly ever. */
const shownWithin = 5_000;
/** Where a copy says which content it is, so that the next build can keep it. */
const hashHeader = 'x-tidemark-hash';
/** By the file's ending and not by the host: one that calls a page plain text would make a copy that shows its source. */
const types: Record<string, string> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  json: 'application/json',
  svg: 'image/svg+xml',
  png: 'image/png',
  wasm: 'application/wasm',
  webmanifest: 'application/manifest+json',
};
const endingOf = (address: string): string => /\.(\w+)$/.exec(address)?.[1] ?? '';
/** Headers of the host that do not fit a copy: its body is unpacked, and it is to be shown as a page, not downloaded. */
const dropped = ['content-encoding', 'content-length', 'content-disposition', 'refresh', 'set-cookie'];
/** A file that has not come in this time will not come: the whole is tried again at the next visit. */
const patience = 60_000;

worker.addEventListener('install', (event) => event.waitUntil(install()));
worker.addEventListener('activate', (event) => event.waitUntil(activate()));
worker.addEventListener('message', (event) => {
  if (event.data === 'take-over') event.waitUntil(takeOver());
  if (event.data === 'state') event.waitUntil(report(event.source));
  if (event.data === 'check') event.waitUntil(check(event.source));
});
worker.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method === 'GET' && url.origin === scope.origin && url.pathname.startsWith(scope.pathname))
    event.respondWith(answer(event, url));
});

// ---- saving a version ------------------------------------------------------------------------------------------------

let progress: { done: number; of: number } | undefined;

async function install(): Promise<void> {
  for (const name of await ourCaches()) await correctTypes(name);
  await fill();
  const { current } = await readState();
  const first = current === undefined || !(await isWhole(current));
  if (first) await changeState((state) => ({ ...state, current: own }));
  await postToPages({ kind: 'installed', first });
}

/** Every page asks for this once it is open: the tab that it replaced may have been the last one of an old version. */
async function check(from: ExtendableMessageEvent['source']): Promise<void> {
  await repair().catch(() => undefined);
  await report(from);
  // Not otherwise: half of a newer version, cut off on its way, is to be there when it goes on.
  const { current, held } = await readState();
  const others = (await notes()).some(({ from }) => from !== current?.cache && from !== network);
  if (others || Object.keys(held).length > 0) await sweep();
}

/** Copy what is not here yet: from an earlier version where its content is the same, else from the server. */
async function fill(): Promise<void> {
  const cache = await caches.open(own.cache);
  const have = new Set((await cache.keys()).map((request) => request.url));
  const missing = files.filter((file) => !have.has(addressOf(file)));
  const earlier = missing.length > 0 ? await earlierCopies() : new Map<string, Place>();
  progress = { done: files.length - missing.length, of: files.length };
  const step = Math.max(1, Math.ceil(files.length / 50));
  // A few at a time: a phone on a weak signal finishes some files instead of starting all.
  const queue = [...missing];
  const next = async (): Promise<void> => {
    for (let file = queue.shift(); file && progress; file = queue.shift()) {
      await store(cache, file, earlier.get(file.hash));
      // One that failed meanwhile has had the last word.
      if (!progress) return;
      progress.done += 1;
      if (progress.done % step === 0) await postToPages({ kind: 'installing', ...progress });
    }
  };
  try {
    await Promise.all(Array.from({ length: 6 }, next));
  } catch (problem) {
    // The files saved so far stay: the next visit goes on from there.
    progress = undefined;
    await postToPages({ kind: 'failed', why: whyOf(problem), update: (await readState()).current !== undefined });
    throw problem;
  } finally {
    progress = undefined;
  }
  // The browser can drop a cache under our hands.
  if (!(await isWhole(own))) throw new Error(`${own.cache} did not stay whole`);
}

const whyOf = (problem: unknown): 'full' | 'changed' | 'signal' => {
  if (problem instanceof DOMException && problem.name === 'QuotaExceededError') return 'full';
  return problem instanceof RangeError ? 'changed' : 'signal';
};

async function store(cache: Cache, file: ListedFile, earlier: Place | undefined): Promise<void> {
  const address = addressOf(file);
  const copy = earlier && (await (await caches.open(earlier.cache)).match(earlier.address));
  if (copy) return cache.put(address, asCopy(address, file.hash, copy.headers, await copy.arrayBuffer()));
  const { headers, body } = await fetchListed(address, file.hash);
  return cache.put(address, asCopy(address, file.hash, headers, body));
}

/**
 * The listed content of a file from the host. 'no-cache' lets the host say that the browser's own cached copy is still
 * good, which saves its bytes. Where that copy is spoiled, its ETag is still the host's, and it would come for ever: so
 * anything but the listed content is asked for once more, past the browser's cache.
 */
async function fetchListed(address: string, hash: string): Promise<{ headers: Headers; body: ArrayBuffer }> {
  let status = 0;
  for (const cache of ['no-cache', 'reload'] as const) {
    const response = await fetch(new Request(address, { cache }), { signal: AbortSignal.timeout(patience) });
    const body = await response.arrayBuffer();
    // By content and not by status: hosts answer 404.html with 404, and sign-in pages with 200.
    if ((await hashOf(body)) === hash) return { headers: response.headers, body };
    status = response.status;
  }
  throw new RangeError(`${address} answered ${status} with other content than this version's`);
}

/** Wrapped anew: a response that followed a redirect may not answer a navigation. */
function asCopy(address: string, hash: string, from: Headers, body: ArrayBuffer): Response {
  const headers = new Headers(from);
  for (const name of dropped) headers.delete(name);
  const type = types[endingOf(address)];
  if (type) headers.set('content-type', type);
  headers.set(hashHeader, hash);
  return new Response(body, { status: 200, headers });
}

async function hashOf(body: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', body), 0, 12);
  return btoa(String.fromCharCode(...digest))
    .replaceAll('+', '-')
    .replaceAll('/', '_');
}

interface Place {
  cache: string;
  address: string;
}

async function earlierCopies(): Promise<Map<string, Place>> {
  const found = new Map<string, Place>();
  for (const name of await ourCaches()) {
    if (name === own.cache) continue;
    const cache = await caches.open(name);
    // A copy does not know its own address; both lists are in the order of saving.
    const keys = await cache.keys();
    for (const [at, response] of (await cache.matchAll()).entries()) {
      const hash = response.headers.get(hashHeader);
      const address = keys[at]?.url;
      if (hash && address) found.set(hash, { cache: name, address });
    }
  }
  return found;
}

/** A browser can drop single files of a saved version. What is missing is fetched again, or a whole version takes its place. */
async function repair(): Promise<void> {
  const state = await readState();
  if (state.current && !(await opensAsPage(state.current.cache))) await correctTypes(state.current.cache);
  if (state.current && (await isWhole(state.current))) return;
  if (!(await isWhole(own))) await fill();
  if (state.current?.cache !== own.cache) await changeState((now) => ({ ...now, current: own }));
}

/** Every file is there, and the first page opens as a page. */
const isWhole = async ({ cache, files: count }: Version): Promise<boolean> =>
  (await caches.has(cache)) && (await (await caches.open(cache)).keys()).length >= count && (await opensAsPage(cache));

/** One page stands for all: this worker stores no wrong type, and an earlier one took the host's for every page. */
async function opensAsPage(name: string): Promise<boolean> {
  const home = await (await caches.open(name)).match(new URL('index.html', scope).href);
  return home === undefined || hasType(home, 'html');
}

const hasType = (copy: Response, ending: string): boolean =>
  copy.headers.get('content-type')?.split(';')[0]?.trim() === types[ending]?.split(';')[0];

/**
 * Copies that an earlier version of this worker stored with the host's wrong type, corrected in place: their content was
 * compared with its hash when it came, so that no signal is needed.
 */
async function correctTypes(name: string): Promise<void> {
  const cache = await caches.open(name);
  const keys = await cache.keys();
  for (const [at, copy] of (await cache.matchAll()).entries()) {
    const address = keys[at]?.url ?? '';
    const ending = endingOf(address);
    const hash = copy.headers.get(hashHeader);
    if (types[ending] && hash && !hasType(copy, ending))
      await cache.put(address, asCopy(address, hash, copy.headers, await copy.arrayBuffer()));
  }
}

// ---- which version is in use -----------------------------------------------------------------------------------------

async function activate(): Promise<void> {
  const { current } = await readState();
  if (!current || !(await isWhole(current))) await changeState((state) => ({ ...state, current: own }));
  await sweep();
  if ((await readState()).current?.cache !== own.cache) return;
  await worker.clients.claim();
  await postToPages({ kind: 'in-use' });
}

/** The reader's yes: from now on every page opened is this version's. */
async function takeOver(): Promise<void> {
  if (!(await isWhole(own))) await fill();
  // Listed before the change: a page given out from now on is noted, whichever version it is of.
  const open = await everyClient();
  await changeState(({ current, held }) => {
    const before = current?.cache;
    const kept = { ...held };
    if (before !== undefined && before !== own.cache) for (const { id } of open) kept[id] ??= before;
    return { held: kept, current: own };
  });
  const waiting = worker.registration.waiting !== null;
  await worker.skipWaiting();
  // A waiting worker tells when it has become the active one.
  if (!waiting) await postToPages({ kind: 'in-use' });
}

/** Versions that nothing uses any more go. One that waits, or is on its way in, keeps what it has. */
async function sweep(): Promise<void> {
  const names = await ourCaches();
  const { current, held } = await readState();
  const noted = await notes();
  const open = new Set((await everyClient()).map(({ id }) => id));
  // A page that was just given out is in no list of tabs until it is shown. Asking the browser for it would wait for it,
  // and it can wait for this.
  for (const { client, at } of noted) if (Date.now() - at < shownWithin) open.add(client);
  const heldBy = (id: string): boolean => open.has(id);
  const used = new Set([
    current?.cache,
    own.cache,
    ...Object.entries(held).flatMap(([id, name]) => (heldBy(id) ? [name] : [])),
    ...noted.flatMap(({ client, from }) => (heldBy(client) ? [from] : [])),
  ]);
  if (worker.registration.installing || worker.registration.waiting) return;
  for (const name of names) if (!used.has(name)) await caches.delete(name);
  const state = await caches.open(stateCache);
  for (const { client } of noted) if (!heldBy(client)) await state.delete(noteAddress(client));
  if (Object.keys(held).every(heldBy)) return;
  await changeState((now) => ({
    ...now,
    held: Object.fromEntries(Object.entries(now.held).filter(([id]) => heldBy(id) || !(id in held))),
  }));
}

/** Tabs, and the threads that they started: a search asks for its parts from one. */
const everyClient = () => worker.clients.matchAll({ type: 'all', includeUncontrolled: true });

const ourCaches = async (): Promise<string[]> =>
  (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== stateCache);

let known: State | undefined;

async function readState(): Promise<State> {
  const saved = await (await caches.open(stateCache)).match(stateAddress);
  known = saved ? ((await saved.json()) as State) : { held: {} };
  return known;
}

/** One change after the other, also of two workers, where the browser has locks. */
async function changeState(to: (state: State) => State): Promise<void> {
  const change = async (): Promise<void> => {
    const next = to(await readState());
    await (await caches.open(stateCache)).put(stateAddress, new Response(JSON.stringify(next)));
    known = next;
  };
  await (navigator.locks ? navigator.locks.request(stateCache, change) : change());
}

// ---- which version a tab is of ---------------------------------------------------------------------------------------

/**
 * What one tab is answered from, noted when its page is given out. An entry of its own for each tab: two workers are at
 * work during a change of version, and neither may overwrite what the other noted.
 */
interface Note {
  client: string;
  /** a cache, or `network` for a page that was in no copy */
  from: string;
  /** in milliseconds */
  at: number;
}

/** What this worker noted or looked up, so that a file of a page costs no look into the notes. */
const tabs = new Map<string, string | undefined>();

/**
 * Note what a tab is answered from. Stored where this worker's memory is not enough: while another version is on its way
 * in or in use, and for a page from the network, whose tab would otherwise get files of the copy once this worker was
 * stopped and started again.
 */
async function noteTab(client: string, from: string): Promise<void> {
  if (client === '') return;
  tabs.set(client, from);
  const { waiting, installing } = worker.registration;
  if (from === own.cache && !waiting && !installing) return;
  await (await caches.open(stateCache)).put(
    noteAddress(client),
    new Response(JSON.stringify({ client, from, at: Date.now() } satisfies Note)),
  );
}

async function sourceOf(client: string): Promise<string | undefined> {
  if (client === '') return undefined;
  if (!tabs.has(client)) {
    const saved = await (await caches.open(stateCache)).match(noteAddress(client));
    tabs.set(client, saved && ((await saved.json()) as Note).from);
  }
  return tabs.get(client) ?? (known ?? (await readState())).held[client];
}

async function notes(): Promise<Note[]> {
  const cache = await caches.open(stateCache);
  const all = await Promise.all(
    (await cache.keys()).map(async (request): Promise<Note | undefined> => {
      const isNote = new URL(request.url).searchParams.has('tab');
      return isNote ? ((await (await cache.match(request))?.json()) as Note) : undefined;
    }),
  );
  return all.filter((one) => one !== undefined);
}

// ---- answering -------------------------------------------------------------------------------------------------------

/**
 * A page is of the version that is in use at that moment, and all that it asks for later is of the same one. The state is
 * read anew for each page: another worker may have changed it since this one read it.
 */
async function answer(event: FetchEvent, url: URL): Promise<Response> {
  const { request, clientId, resultingClientId } = event;
  const isPage = request.mode === 'navigate';
  const tab = isPage ? undefined : await sourceOf(clientId);
  const { current } = isPage ? await readState() : (known ?? (await readState()));
  const from = tab ?? current?.cache ?? own.cache;
  // A thread that a tab starts is of the tab's version too.
  const [copy] = await Promise.all([
    from === network ? undefined : copyIn(from, url),
    noteTab(resultingClientId, from),
  ]);
  if (copy) return copy;
  return isPage ? pageFromNetwork(event, url, from) : partFromNetwork(request, url, from);
}

/** Queries are ours to ignore: searches, and the retry marks that loaders add to a script's address. */
const addressesOf = ({ origin, pathname }: URL): string[] => [
  origin + pathname,
  `${origin}${pathname}${pathname.endsWith('/') ? '' : '/'}index.html`,
];

async function copyIn(name: string, url: URL): Promise<Response | undefined> {
  const cache = await caches.open(name);
  for (const address of addressesOf(url)) {
    const copy = await cache.match(address);
    if (copy) return copy;
  }
  return undefined;
}

const listedAs = (url: URL): ListedFile | undefined => {
  const addresses = addressesOf(url);
  return files.find((file) => addresses.includes(addressOf(file)));
};

/** A page that is in no copy, or no longer. Unless it is the listed one, its tab gets nothing of the copy: it may be of another version. */
async function pageFromNetwork(event: FetchEvent, url: URL, from: string): Promise<Response> {
  const { request, resultingClientId } = event;
  try {
    const response = await fetch(request);
    if (response.status < 500) {
      const listed = from === own.cache ? listedAs(url) : undefined;
      const isOurs = listed !== undefined && (await hashOf(await response.clone().arrayBuffer())) === listed.hash;
      if (!isOurs) await noteTab(resultingClientId, network);
      return response;
    }
  } catch {
    // without a signal
  }
  const missing = await (await caches.open(from)).match(new URL('404.html', scope).href);
  return missing ? new Response(missing.body, { status: 404, headers: missing.headers }) : Response.error();
}

/** A listed file has the listed content or does not come: of an older version this worker does not know the list. */
async function partFromNetwork(request: Request, url: URL, from: string): Promise<Response> {
  try {
    const listed = from === network ? undefined : listedAs(url);
    if (!listed) return await fetch(request);
    if (from !== own.cache) return Response.error();
    const { headers, body } = await fetchListed(addressOf(listed), listed.hash);
    return asCopy(addressOf(listed), listed.hash, headers, body);
  } catch {
    return Response.error();
  }
}

// ---- telling the pages -----------------------------------------------------------------------------------------------

async function report(to: Client | ServiceWorker | MessagePort | null): Promise<void> {
  const { current } = await readState();
  const ready = current !== undefined && (await isWhole(current));
  to?.postMessage({
    kind: 'state',
    ready,
    current: ready ? current : undefined,
    newer: ready && current.cache !== own.cache && (await isWhole(own)) ? own : undefined,
    progress,
  });
}

let lastMessage: Promise<void> = Promise.resolve();

/** One after the other: how far saving was must not arrive after how it ended. */
function postToPages(message: object): Promise<void> {
  // A message that could not be sent must not stop the next.
  lastMessage = lastMessage
    .catch(() => undefined)
    .then(async () => {
      for (const client of await worker.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
    });
  return lastMessage;
}
