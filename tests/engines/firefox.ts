/** Firefox without a window, by WebDriver BiDi: commands and answers over one socket that the browser opens itself. */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Wire } from './client.ts';
import type { Engine } from './engine.ts';
import { onPath, stopGroup, told } from './programs.ts';

const program = () => onPath('firefox-esr');

const preferences: Preferences = {
  'browser.download.folderList': 2,
  'browser.download.alwaysOpenPanel': false,
  'browser.shell.checkDefaultBrowser': false,
  'browser.startup.page': 0,
  'datareporting.policy.dataSubmissionEnabled': false,
  'app.update.enabled': false,
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
  'intl.accept_languages': 'en-GB',
};

export const firefox: Engine = engine('Firefox', {}, reader);

/** Every window of it is a private one, which knows no containers: its readers share one window and what that keeps. */
export const privateFirefox: Engine = engine(
  'Firefox, private window',
  { 'browser.privatebrowsing.autostart': true },
  async (ask, downloads) => {
    const { context } = await ask<{ context: string }>('browsingContext.create', { type: 'tab' });
    return {
      ...commands(ask, context),
      downloads,
      close: async () => {
        await ask('browsingContext.close', { context });
      },
    };
  },
);

type Preferences = Record<string, string | number | boolean>;

function engine(name: string, more: Preferences, open: (ask: Ask, downloads: string) => Promise<Wire>): Engine {
  return {
    name,
    packages: ['firefox-esr'],
    found: () => program() !== undefined,
    prints: true,
    start: async () => {
      const home = mkdtempSync(join(tmpdir(), 'tidemark-firefox-'));
      const downloads = join(home, 'downloads');
      const browser = launch(home, downloads, more);
      const address = await told(browser.stderr, /BiDi listening on (ws:\S+)/, 'Firefox');
      const { ask, end } = await talk(`${address}/session`);
      await ask('session.new', { capabilities: {} });
      return {
        open: () => open(ask, downloads),
        stop: async () => {
          end();
          await stopGroup(browser);
          rmSync(home, { recursive: true, force: true, maxRetries: 3 });
        },
      };
    },
  };
}

function launch(home: string, downloads: string, more: Preferences) {
  const profile = join(home, 'profile');
  for (const folder of [downloads, profile]) mkdirSync(folder);
  const set = Object.entries({ ...preferences, ...more, 'browser.download.dir': downloads });
  writeFileSync(
    join(profile, 'user.js'),
    set.map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`).join(''),
  );
  return spawn(
    program() ?? '',
    ['--headless', '--no-remote', '--profile', profile, '--remote-debugging-port=0', '--width=1024', '--height=900'],
    { stdio: ['ignore', 'ignore', 'pipe'], detached: true, env: { ...process.env, HOME: home } },
  );
}

/** A container of its own for each reader, with one tab: it shares no storage, cache or service worker with another. */
async function reader(ask: Ask, downloads: string) {
  const { userContext } = await ask<{ userContext: string }>('browser.createUserContext', {});
  // Firefox gives the keyboard to a tab that is opened by command, and not to its first one: no field there is ever left.
  const { context } = await ask<{ context: string }>('browsingContext.create', { type: 'tab', userContext });
  return {
    ...commands(ask, context),
    downloads,
    close: async () => {
      await ask('browser.removeUserContext', { userContext });
    },
  };
}

type Ask = <T>(method: string, params: object) => Promise<T>;
interface Evaluated {
  type: 'success' | 'exception';
  result?: { value: string; sharedId?: string };
  exceptionDetails?: { text: string };
}

const commands = (ask: Ask, context: string) => {
  const evaluate = async (expression: string) => {
    const { result, exceptionDetails } = await ask<Evaluated>('script.evaluate', {
      expression,
      target: { context },
      awaitPromise: true,
    });
    if (result === undefined) throw new Error(exceptionDetails?.text);
    return result;
  };
  return {
    go: async (url: string) => {
      await ask('browsingContext.navigate', { context, url, wait: 'complete' });
    },
    evaluate: async (body: string) =>
      (await evaluate(`(async () => JSON.stringify((await (async () => { ${body} })()) ?? null))()`)).value,
    perform: async (actions: object[]) => {
      await ask('input.performActions', { context, actions });
    },
    choose: async (selector: string, path: string) => {
      const { sharedId } = await evaluate(`document.querySelector(${JSON.stringify(selector)})`);
      await ask('input.setFiles', { context, element: { sharedId }, files: [path] });
    },
    print: async () => {
      const paper = { page: { width: 21, height: 29.7 } };
      const { data } = await ask<{ data: string }>('browsingContext.print', { context, ...paper });
      return Buffer.from(data, 'base64');
    },
  };
};

/** Each command has a number, and its answer the same one; what the browser tells unasked is not needed here. */
async function talk(address: string): Promise<{ ask: Ask; end: () => void }> {
  const socket = new WebSocket(address);
  await new Promise((done, failed) => {
    socket.addEventListener('open', done, { once: true });
    socket.addEventListener('error', failed, { once: true });
  });
  const waiting = new Map<number, (answer: { type: string; result: never; error: string; message: string }) => void>();
  socket.addEventListener('message', ({ data }) => {
    const answer = JSON.parse(String(data));
    waiting.get(answer.id)?.(answer);
    waiting.delete(answer.id);
  });
  let number = 0;
  const ask: Ask = (method, params) =>
    new Promise((done, failed) => {
      number += 1;
      waiting.set(number, ({ type, result, error, message }) =>
        type === 'success' ? done(result) : failed(new Error(`${method}: ${error}: ${message}`)),
      );
      socket.send(JSON.stringify({ id: number, method, params }));
    });
  return { ask, end: () => socket.close() };
}
