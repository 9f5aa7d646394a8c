/**
 * A browser seen through WebDriver, whichever engine it has: just what the journeys need. Both dialects, the one of requests
 * and the one of a socket, take the same description of keys and pointer, so taps and typing are written here once.
 */
import { setTimeout as later } from 'node:timers/promises';

/** What one dialect must be able to do. */
export interface Wire {
  /** open an address and wait until it has loaded */
  go: (address: string) => Promise<void>;
  /** run the text of an async function in the page; what it returns, as JSON */
  evaluate: (body: string) => Promise<string>;
  perform: (actions: object[]) => Promise<void>;
  /** hand a file to the file field that the selector finds */
  choose: (selector: string, path: string) => Promise<void>;
  /** the page on paper, as PDF; missing where the engine's driver cannot print */
  print?: () => Promise<Buffer>;
  /** where this reader's downloads arrive */
  downloads: string;
  close: () => Promise<void>;
}

export interface Screen extends Omit<Wire, 'evaluate' | 'perform'> {
  /** run a function in the page. It sees nothing of this file: what it needs is given to it */
  run: <Given extends unknown[], T>(work: (...given: Given) => T | Promise<T>, ...given: Given) => Promise<T>;
  /** wait until a function in the page gives something other than nothing, false, 0 or an empty text */
  until: <Given extends unknown[], T>(
    work: (...given: Given) => T | Promise<T>,
    ...given: Given
  ) => Promise<NonNullable<Awaited<T>>>;
  /** wait for an element, then click on it; with words, on the first that has them */
  click: (selector: string, words?: string) => Promise<void>;
  /** click into a field and press these keys one by one, in place of what it held */
  type: (selector: string, text: string) => Promise<void>;
  /** choose an option of a list by its value */
  pick: (selector: string, value: string) => Promise<void>;
  /** wait until these words can be seen inside the element */
  sees: (words: string, selector?: string) => Promise<void>;
}

/** The private character by which WebDriver names this key. */
export const enter = '\uE007';
const patience = 30_000;
/** A page that is left while it is asked may never answer, as one that went into the back-forward cache does. */
const answerWithin = 8_000;

export function screenOf(wire: Wire): Screen {
  const run: Screen['run'] = async (work, ...given) => {
    const asked = wire.evaluate(`return await (${work.toString()})(...${JSON.stringify(given)})`);
    const over = new AbortController();
    const silence = later(answerWithin, undefined, { signal: over.signal }).then(() => {
      throw new Error(`No answer from the page in ${answerWithin / 1000} s`);
    });
    try {
      return JSON.parse(await Promise.race([asked, silence]));
    } finally {
      over.abort();
    }
  };
  const until: Screen['until'] = async (work, ...given) => {
    const end = Date.now() + patience;
    for (let last: unknown; ; await later(100)) {
      // Between two pages there may be no page to ask: the next question goes to the new one.
      const found = await run(work, ...given).catch((problem: unknown) => {
        last = problem;
        return undefined;
      });
      if (found) return found;
      if (Date.now() > end) {
        const page = await run(
          () => `${location.pathname}: ${document.querySelector('main')?.textContent?.replace(/\s+/g, ' ')}`,
        ).catch(String);
        const wanted = `${work.name || work} ${JSON.stringify(given)} ${last ?? ''}`;
        throw new Error(`Not seen in ${patience / 1000} s: ${wanted}\non ${page.slice(0, 1500)}`);
      }
    }
  };
  const press = (text: string) =>
    wire.perform([
      {
        type: 'key',
        id: 'keys',
        actions: [...text].flatMap((value) => [
          { type: 'keyDown', value },
          { type: 'keyUp', value },
        ]),
      },
    ]);
  const click: Screen['click'] = async (selector, words) => {
    // A part that is drawn anew in the same moment takes the place of what was under the finger: a reader taps once more.
    for (let tries = 3; tries > 0; tries -= 1) {
      const place = await until(placeOf, selector, words ?? null);
      await wire.perform([
        {
          type: 'pointer',
          id: 'pointer',
          parameters: { pointerType: 'mouse' },
          actions: [
            { type: 'pointerMove', ...place },
            { type: 'pointerDown', button: 0 },
            { type: 'pointerUp', button: 0 },
          ],
        },
      ]);
      // Where the click led to another page, there is none to ask, or one that knows of no click.
      if (!(await run(wasMissed).catch(() => false))) return;
    }
    throw new Error(`Three clicks did not reach ${selector} ${words ?? ''}`);
  };
  return {
    ...wire,
    run,
    until,
    click,
    type: async (selector, text) => {
      await click(selector);
      await until(selectAll, selector);
      await press(text);
    },
    pick: async (selector, value) => {
      await until(pickOption, selector, value);
    },
    sees: async (words, selector = 'body') => {
      await until(hasWords, selector, words);
    },
  };
}

/** The middle of an element that a finger can reach, in the window; nothing while it is hidden, off, covered or moving. */
async function placeOf(selector: string, words: string | null): Promise<{ x: number; y: number } | undefined> {
  const plain = (text: string | null) => (text ?? '').replace(/\s+/g, ' ').trim();
  const middle = (element: Element) => {
    const box = element.getBoundingClientRect();
    return { x: Math.round(box.left + box.width / 2), y: Math.round(box.top + box.height / 2) };
  };
  for (const element of document.querySelectorAll<HTMLElement>(selector)) {
    if (words !== null && !plain(element.textContent).includes(words)) continue;
    // Scrolled to first: a part of a page may wake only once it is in view.
    element.scrollIntoView({ block: 'center', behavior: 'instant' });
    if (element.closest(':disabled') || !element.checkVisibility()) continue;
    const before = middle(element);
    for (let frame = 0; frame < 2; frame += 1) await new Promise((drawn) => requestAnimationFrame(drawn));
    const place = middle(element);
    const top = document.elementFromPoint(place.x, place.y);
    const reached = top !== null && (element.contains(top) || top.closest('label')?.contains(element));
    if (!reached || !element.isConnected || before.x !== place.x || before.y !== place.y) continue;
    const noted = globalThis as { missed?: boolean };
    noted.missed = true;
    addEventListener(
      'click',
      ({ target: clicked }) => {
        noted.missed = !(clicked instanceof Node && (element.contains(clicked) || clicked.contains(element)));
      },
      { once: true, capture: true },
    );
    return place;
  }
  return undefined;
}

const wasMissed = (): boolean => (globalThis as { missed?: boolean }).missed === true;

/** Once the field has the focus: what is typed then takes the place of what it holds. */
function selectAll(selector: string): boolean {
  const field = document.activeElement as HTMLInputElement | null;
  if (!field?.matches(selector)) return false;
  field.select();
  return true;
}

function pickOption(selector: string, value: string): boolean {
  const list = document.querySelector<HTMLSelectElement>(selector);
  if (!list || list.matches(':disabled')) return false;
  list.value = value;
  list.dispatchEvent(new Event('input', { bubbles: true }));
  list.dispatchEvent(new Event('change', { bubbles: true }));
  return list.value === value;
}

function hasWords(selector: string, words: string): boolean {
  return [...document.querySelectorAll<HTMLElement>(selector)].some((element) => {
    if (element.checkVisibility() && (element.textContent ?? '').replace(/\s+/g, ' ').includes(words)) return true;
    element.scrollIntoView({ block: 'center', behavior: 'instant' });
    return false;
  });
}
