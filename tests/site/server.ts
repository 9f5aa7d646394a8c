/**
 * A small file server for the tests: one folder of built files under a base path, on this machine only. Stopping it
 * cuts every connection, as a lost signal does.
 */
import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, sep } from 'node:path';

export const contentTypes: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

export interface Server {
  /** of the site's root, with a slash at the end */
  root: string;
  /** a page or file of the site, from its root: `at('/visit/')` */
  at: (path: string) => string;
  /** paths asked for since the server started or since this was last emptied */
  asked: string[];
  /** the same as a host's log has it: method, address and the page that it was asked from */
  log: string[];
  /** files, by path, that it answers with this text and the ETag of the file itself: how a spoiled cache entry begins */
  spoiled: Map<string, string>;
  /** a type that it sends instead of the file's own, by ending: a host that was set up wrongly. Not for the worker, which no browser would start */
  types: Record<string, string>;
  /** paths that it answered with 304: the browser's own copy was used */
  unchanged: string[];
  /** requests it will still answer before the signal goes; without end unless a test says so */
  left: number;
  stop: () => Promise<void>;
}

/** What the built site asks its host to send: every test runs as on a host that does. Caching stays the tests' own. */
async function hostHeaders(folder: string): Promise<[place: string, name: string, value: string][]> {
  const text = await readFile(join(folder, '_headers'), 'utf8').catch(() => '');
  let place = '';
  return text.split('\n').flatMap((line): [string, string, string][] => {
    const header = /^ {2}([\w-]+): (.*)$/.exec(line);
    if (line.startsWith('/')) place = line.replace(/\*$/, '');
    return header && header[1] !== 'Cache-Control' ? [[place, header[1] ?? '', header[2] ?? '']] : [];
  });
}

export async function serve(folder: string, base = '/'): Promise<Server> {
  const sent = await hostHeaders(folder);
  const server = createServer((request, response) => {
    for (const [place, name, value] of sent) if (request.url?.startsWith(place)) response.setHeader(name, value);
    handle.asked.push(request.url ?? '');
    handle.log.push(`${request.method} ${request.url} ${request.headers.referer ?? '-'}`);
    handle.left -= 1;
    if (handle.left < 0) request.socket.destroy();
    else void answer(handle, folder, base, request, response);
  });
  await new Promise<void>((ready, failed) => server.once('error', failed).listen(0, '127.0.0.1', ready));
  const root = `http://127.0.0.1:${(server.address() as AddressInfo).port}${base}`;
  const handle: Server = {
    root,
    asked: [],
    log: [],
    spoiled: new Map(),
    types: {},
    unchanged: [],
    left: Number.POSITIVE_INFINITY,
    at: (path) => root + path.replace(/^\//, ''),
    stop: () =>
      new Promise((done) => {
        if (!server.listening) return done();
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
  return handle;
}

async function answer(
  handle: Server,
  folder: string,
  base: string,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const { pathname, search } = new URL(request.url ?? '/', 'http://localhost');
  const file = pathname.startsWith(base)
    ? normalize(join(folder, decodeURIComponent(pathname.slice(base.length))))
    : undefined;
  const inside = file !== undefined && (file + sep).startsWith(normalize(folder + sep));
  const kind = inside ? await kindOf(file) : 'nothing';
  if (kind === 'folder' && !pathname.endsWith('/')) {
    response.writeHead(301, { location: `${pathname}/${search}` }).end();
    return;
  }
  const found =
    file !== undefined && kind === 'file'
      ? file
      : file !== undefined && kind === 'folder'
        ? join(file, 'index.html')
        : undefined;
  const body = found === undefined ? undefined : await readFile(found).catch(() => undefined);
  const ending = found ? extname(found) : '.html';
  const headers = {
    'content-type':
      (pathname.endsWith('/sw.js') ? undefined : handle.types[ending]) ??
      contentTypes[ending] ??
      'application/octet-stream',
    'cache-control': 'no-cache',
  };
  if (body) sendFile(handle, request, response, headers, body);
  else
    response
      .writeHead(404, { ...headers, 'content-type': contentTypes['.html'] })
      .end(await readFile(join(folder, '404.html')));
}

/** With an ETag of the content, and without the content for a browser that has it already: as hosts do. */
function sendFile(
  handle: Server,
  request: IncomingMessage,
  response: ServerResponse,
  headers: Record<string, string>,
  body: Buffer,
): void {
  const path = request.url ?? '/';
  const etag = `"${createHash('sha256').update(body).digest('base64url').slice(0, 22)}"`;
  const spoiled = handle.spoiled.get(path);
  if (spoiled === undefined && request.headers['if-none-match'] === etag) {
    handle.unchanged.push(path);
    response.writeHead(304, { etag, 'cache-control': 'no-cache' }).end();
  } else response.writeHead(200, { ...headers, etag }).end(spoiled ?? body);
}

const kindOf = (path: string): Promise<'file' | 'folder' | 'nothing'> =>
  stat(path).then(
    (found) => (found.isDirectory() ? 'folder' : 'file'),
    () => 'nothing',
  );
