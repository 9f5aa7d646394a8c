/** WebKit: Debian's WebKitWebDriver and the small browser that comes with the engine, on a screen that exists in memory only. */
import { type ChildProcess, spawn } from 'node:child_process';
import { globSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Engine } from './engine.ts';
import { onPath, stopGroup, told } from './programs.ts';

const browser = () => globSync('/usr/lib/*/webkit2gtk-4.*/MiniBrowser').sort().at(-1);

export const webkit: Engine = {
  name: 'WebKit',
  packages: ['webkit2gtk-driver', 'xvfb'],
  found: () => onPath('WebKitWebDriver') !== undefined && onPath('Xvfb') !== undefined && browser() !== undefined,
  prints: false,
  start: async () => {
    const screen = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '1024x900x24', '-nolisten', 'tcp'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
      detached: true,
    });
    const display = await told(screen.stdio[3] as NodeJS.ReadableStream, /(\d+)\n/, 'Xvfb');
    return { open: () => reader(`:${display}`), stop: () => stopGroup(screen) };
  },
};

/** A driver of its own for each reader, with a home folder of its own: nothing stored, nothing cached. */
async function reader(display: string) {
  const home = mkdtempSync(join(tmpdir(), 'tidemark-webkit-'));
  const port = await freePort();
  const driver = spawn('WebKitWebDriver', [`--port=${port}`], {
    stdio: 'ignore',
    detached: true,
    env: { PATH: process.env.PATH, LANG: 'C.UTF-8', HOME: home, DISPLAY: display },
  });
  const ask = asker(`http://127.0.0.1:${port}`);
  const session = await begin(ask, driver);
  const at = `/session/${session}`;
  return {
    downloads: home,
    go: async (address: string) => {
      await ask('POST', `${at}/url`, { url: address });
    },
    evaluate: async (body: string) => {
      const script = `const done = arguments[arguments.length - 1];
        (async () => { ${body} })().then((value) => done(['well', JSON.stringify(value ?? null)]), (problem) => done(['problem', String(problem)]));`;
      const [how, text] = await ask<[string, string]>('POST', `${at}/execute/async`, { script, args: [] });
      if (how === 'problem') throw new Error(text);
      return text;
    },
    perform: async (actions: object[]) => {
      await ask('POST', `${at}/actions`, { actions });
      await ask('DELETE', `${at}/actions`);
    },
    choose: async (selector: string, path: string) => {
      const field = await ask<object>('POST', `${at}/element`, { using: 'css selector', value: selector });
      await ask('POST', `${at}/element/${Object.values(field)[0]}/value`, { text: path });
    },
    close: async () => {
      await ask('DELETE', at).catch(() => undefined);
      await stopGroup(driver);
      rmSync(home, { recursive: true, force: true, maxRetries: 3 });
    },
  };
}

type Ask = <T>(method: string, path: string, body?: object) => Promise<T>;

const asker =
  (root: string): Ask =>
  async (method, path, body) => {
    const response = await fetch(root + path, { method, ...(body && { body: JSON.stringify(body) }) });
    const { value } = (await response.json()) as { value: never };
    if (!response.ok) throw new Error(`${method} ${path}: ${JSON.stringify(value)}`);
    return value;
  };

/** The driver answers some moments after it has started. */
async function begin(ask: Ask, driver: ChildProcess): Promise<string> {
  const capabilities = {
    // Shorter than the time that the journeys wait for an answer: a page that was left must not hold up the next question.
    alwaysMatch: {
      timeouts: { script: 6_000 },
      'webkitgtk:browserOptions': { binary: browser(), args: ['--automation'] },
    },
  };
  for (const end = Date.now() + 30_000; ; await new Promise((done) => setTimeout(done, 50))) {
    try {
      return (await ask<{ sessionId: string }>('POST', '/session', { capabilities })).sessionId;
    } catch (problem) {
      if (!(problem instanceof TypeError) || Date.now() > end || driver.exitCode !== null) throw problem;
    }
  }
}

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => done(port));
    });
  });
