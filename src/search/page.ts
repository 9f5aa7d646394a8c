/**
 * Search as it is typed: the criteria that a reading meets, then pages by title, synonyms and answer, then full text. Each
 * is shown as soon as it is known, and none waits for the next.
 */

import { cutLine } from '../../calculators/query/read-line.ts';
import { type AskedVisit, type Query, saysNothing } from '../../calculators/query/read-query.ts';
import { agreementChanged } from '../agreement/store.ts';
import { base } from '../browser/base.ts';
import { link, make } from '../browser/dom.ts';
import { personChanged, readPerson } from '../person/store.ts';
import { answerView, warmAnswers } from './answer.ts';
import type { Answers } from './answers.ts';
import { topicsView } from './card.ts';
import { type Hit, search, warm } from './engine.ts';
import { type Listed, type LookUp, type Ranker, ranker } from './rank.ts';
import { keepLine, lineHere } from './typed-line.ts';

const mostListed = 8;
const mostFullText = 12;
/** A status is spoken when typing has paused, not at every key. */
const pause = 500;

let ranking: Promise<Ranker> | undefined;
function warmRanker(): Promise<Ranker> {
  ranking ??= fetch(`${base}data/pages.json`)
    .then((response) => response.json())
    .then(({ pages, lookUp }: { pages: Listed[]; lookUp: LookUp }) => ranker(pages, lookUp));
  ranking.catch(() => {
    ranking = undefined;
  });
  return ranking;
}

const kindWords: Partial<Record<Listed['kind'], string>> = {
  calculator: 'Calculator',
  decision: 'Decision',
  source: 'Source',
};

/** After the next picture of the page; in a tab that is not in view there is none. */
const painted = (): Promise<void> =>
  new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done));
    setTimeout(done, 100);
  });

interface Parts {
  field: HTMLInputElement;
  instant: HTMLElement;
  list: HTMLElement;
  status: HTMLElement;
}

/** Says a line when typing has paused; another key takes it back. */
function speaker(status: HTMLElement) {
  let speaking: ReturnType<typeof setTimeout> | undefined;
  return {
    hush: () => clearTimeout(speaking),
    speak: (words: string, wait: number) => {
      clearTimeout(speaking);
      speaking = setTimeout(() => {
        if (status.textContent !== words) status.textContent = words;
      }, wait);
    },
  };
}

/** The instant answer, and the words by which pages are looked up. */
async function answerLine(query: string, instant: HTMLElement, stale: () => boolean, again: () => void) {
  const answers = await warmAnswers(base).catch(() => undefined);
  if (stale()) return undefined;
  // Before the subjects are there the criteria answer: no emergency waits for a link to a page.
  if (answers && !answers.knowsSubjects())
    void answers.subjects.then((known) => {
      if (known && !stale()) again();
    });
  const understood = answers?.read(query);
  const asked = understood && saysNothing(understood) ? undefined : understood;
  const topics = answers?.topics(query) ?? [];
  const { left } = cutLine(query);
  instant.replaceChildren(
    ...(left === '' ? [] : [make('p', 'care', `The line is too long. Left out: \u201c${left}\u201d`)]),
    ...(answers && asked ? [viewOf(query, asked, answers)] : topicsView(topics, base)),
  );
  const { words, first = topics[0]?.page } = lookUp(query, asked, answers);
  return { words, first, heading: asked ? (instant.querySelector('h2, p')?.textContent ?? '') : '' };
}

/** The answer as the reader left it, where something in it was changed. */
function viewOf(query: string, asked: NonNullable<Query>, answers: Answers): HTMLElement {
  const show = (what: NonNullable<Query>) =>
    answerView(what, readPerson(), answers, base, (meaning) => keepLine(query, meaning));
  const before = lineHere();
  if (before?.typed !== query || !before.meant) return show(asked);
  try {
    return show(before.meant);
  } catch {
    // stored by another version of the site
    return show(asked);
  }
}

/** Pages by title and search words; the one that belongs to the answer leads. */
async function listPages(words: string, first: string | undefined, list: HTMLElement, stale: () => boolean) {
  const ranker = await warmRanker().catch(() => undefined);
  if (stale()) return undefined;
  const ranked = ranker?.rank(words).map(({ page }) => page) ?? [];
  const listed = [...ranked.filter(({ to }) => to === first), ...ranked.filter(({ to }) => to !== first)].slice(
    0,
    mostListed,
  );
  const wordsOf = ranker?.wordsOf ?? ((line: string) => line.split(/\s+/));
  list.replaceChildren(...listed.map((page) => listedItem(page, wordsOf(words))));
  return { addresses: new Set(listed.map(({ to }) => base + to.slice(1))), wordsOf, nearest: ranker?.nearest };
}

function clear({ instant, list, status }: Omit<Parts, 'field'>): void {
  instant.replaceChildren();
  list.replaceChildren();
  status.textContent = '';
}

/** @returns what answers the field again */
function start({ field, instant, list, status }: Parts): () => void {
  let latest = 0;
  const { hush, speak } = speaker(status);

  async function run(wait = pause): Promise<void> {
    const query = field.value.trim();
    // Another key: what was about to be spoken is about a line that is no longer there.
    hush();
    latest += 1;
    const mine = latest;
    const stale = () => mine !== latest;
    const before = lineHere();
    keepLine(query, before?.typed === query ? before.meant : undefined);
    if (query === '') return clear({ instant, list, status });
    const answer = await answerLine(query, instant, stale, () => void run(0));
    // The answer is on the screen before pages are looked up.
    await painted();
    const shown = answer && (await listPages(answer.words, answer.first, list, stale));
    // The full text lags a key or two behind: it is asked once the typing pauses for a moment.
    if (wait > 0) await new Promise((done) => setTimeout(done, 80));
    if (!answer || !shown || stale()) return;
    const found = () => summary(answer.heading, list.childElementCount);
    try {
      const hits = await search(base, answer.words, mostFullText, shown.wordsOf);
      if (stale()) return;
      list.append(...hits.filter((hit) => isNew(hit, shown.addresses)).map(hitItem));
      if (answer.heading === '' && list.childElementCount + instant.childElementCount === 0)
        instant.append(nothingFound(shown.nearest?.(answer.words) ?? []));
      status.classList.remove('seen');
      speak(found(), wait);
    } catch {
      if (stale()) return;
      status.classList.add('seen');
      speak(
        `${found()} Full-text search could not start in this browser, so these pages were found by title and search words alone.`,
        wait,
      );
    }
  }

  field.addEventListener('input', () => void run());
  field.form?.addEventListener('submit', (event) => {
    event.preventDefault();
    // The keyboard goes: the answer needs the room.
    field.blur();
    void run(0);
  });
  addEventListener(personChanged, (event) => {
    // What was typed for the last person goes with them. Nothing is stored then; otherwise the browser brought back a page.
    if (event instanceof CustomEvent && event.detail === 'next') field.value = lineHere()?.typed ?? '';
    void run(0);
  });
  addEventListener(agreementChanged, () => void run(0));
  if (field.value) void run(0);
  return () => void run(0);
}

/** A page that is listed already comes again only at the section that holds the words. */
const isNew = ({ url, section }: Hit, shown: ReadonlySet<string>): boolean =>
  section !== '' || !shown.has(new URL(url, location.href).pathname);

/** Nothing was found: the words of pages that look like it, and the list of all where the page does not end with it. */
function nothingFound(nearest: readonly string[]): HTMLElement {
  const links = nearest.map((word) => link(`${base}search/#q=${encodeURIComponent(word)}`, word));
  const near =
    links.length > 0 ? ['Nearest words: ', ...links.flatMap((one, at) => (at > 0 ? [', ', one] : [one])), '. '] : [];
  const all = document.querySelector('.floor') ? [] : [link(`${base}all-pages/`, 'All pages, with their search words')];
  return make('p', 'entry', ...near, ...all);
}

const summary = (told: string, pages: number): string =>
  told === '' && pages === 0
    ? 'Nothing found. Try another word, or look through all pages.'
    : [told, pages === 1 ? '1 page found' : `${pages} pages found`].filter(Boolean).join('. ').concat('.');

/** The words to look pages up by, and the page that belongs to what was understood. */
function lookUp(
  query: string,
  asked: Query,
  answers: Answers | undefined,
): { words: string; first?: string | undefined } {
  if (!asked || !answers) return { words: withoutUnits(query) };
  if (asked.kind === 'visit') return lookUpVisit(query, asked, answers);
  const meant = asked.kind === 'ask' ? asked.options[0] : asked;
  if (meant?.kind === 'reading') {
    const measure = answers.data.measures[meant.measure];
    return {
      words: [measure?.label ?? '', ...meant.unused.filter((word) => !/\d/.test(word))].join(' '),
      first: measure?.page,
    };
  }
  if (meant?.kind === 'sum')
    return { words: `oxygen flow FiO2 ${meant.title.replace(/ at .*/, '')}`, first: '/oxygen/flow-to-fio2/' };
  return { words: query, first: meant?.kind === 'hint' ? meant.page : undefined };
}

/** Units go with the numbers: 'kPa to mmHg' is about them. */
const withoutUnits = (line: string): string =>
  /\d/.test(line) ? line.replace(/%|\b(?:l|ml|kg|kpa|mmhg|cmh2o|lpm)\b/gi, ' ').trim() || line : line;

/** What is there, by its own words: no numbers, and nothing that was denied. */
function lookUpVisit(
  query: string,
  asked: AskedVisit,
  { data, calculations }: Answers,
): { words: string; first?: string | undefined } {
  const denied = Object.entries(asked.because).flatMap(([id, typed]) =>
    asked.signs[id] === 'absent' || asked.supports[id] === 'none' ? [typed] : [],
  );
  const said = denied.reduce((line, typed) => line.replace(typed, ' '), query.toLowerCase());
  const readings = Object.keys(asked.readings).map((id) => data.measures[id]);
  const words = withoutUnits(said).replace(/\S*\d\S*/g, ' ');
  const [calculation] = asked.taken ?? [];
  if (calculation && readings.length + Object.keys(asked.signs).length === 0)
    return {
      words: calculations[calculation.calculator]?.title ?? query,
      first: `/calculators/${calculation.calculator}/`,
    };
  const first = asked.dangers[0]?.page ?? (Object.keys(asked.signs).length === 0 ? readings[0]?.page : undefined);
  return { words: [...readings.map((measure) => measure?.label ?? ''), words].join(' ').trim(), first };
}

function listedItem({ to, title, says, kind }: Listed, asked: readonly string[]): HTMLLIElement {
  const item = make('li', '', link(base + to.slice(1), title));
  const tag = kindWords[kind];
  if (tag) item.append(' ', make('span', 'small', tag));
  if (says) item.append(make('p', '', ...marked(says, asked)));
  return item;
}

/** The text with the words asked for marked. */
function marked(text: string, words: readonly string[]): (Node | string)[] {
  const asked = words.filter((word) => word.length > 1);
  return text.split(/(?<=\P{L})(?=\p{L})|(?<=\p{L})(?=\P{L})/u).map((part) => {
    const word = part.toLowerCase();
    const hit = asked.some((one) => word === one || (one.length > 3 && word.startsWith(one.slice(0, -1))));
    return hit ? make('mark', '', part) : part;
  });
}

function hitItem({ url, title, section, excerpt }: Hit): HTMLLIElement {
  // The engine's excerpt is markup. Read where nothing runs; only its text and its <mark> go into the page.
  const parts = new DOMParser().parseFromString(excerpt, 'text/html').body.childNodes;
  const words = Array.from(parts, (part) => {
    const text = (part.textContent ?? '').replace(/(\d) (?=%)/g, '$1\u00a0');
    return part.nodeName === 'MARK' ? make('mark', '', text) : text;
  });
  // Cut out of the middle of a page: it says so where no sentence begins or ends.
  const text = words
    .map((word) => (typeof word === 'string' ? word : word.textContent))
    .join('')
    .trim();
  if (/^\p{Ll}/u.test(text)) words.unshift('\u2026 ');
  if (text !== '' && !/[.?!]$/.test(text)) words.push(' \u2026');
  const name = section === '' || section === title ? title : `${title}: ${section}`;
  return make('li', '', link(url, name), ...(words.length > 0 ? [make('p', '', ...words)] : []));
}

const field = document.querySelector<HTMLInputElement>('#q');
const instant = document.querySelector<HTMLElement>('#instant');
const list = document.querySelector<HTMLElement>('#results');
const status = document.querySelector<HTMLElement>('#search-status');
if (field && instant && list && status) {
  field.value = field.value || (lineHere()?.typed ?? '');
  const again = start({ field, instant, list, status });
  // A link with a line in it, and the way back from there.
  addEventListener('popstate', () => {
    const line = lineHere()?.typed ?? '';
    // A link to a place on this page is no other line.
    if (line === '' && history.state?.line === undefined) return;
    if (line === field.value && history.state?.line !== undefined) return;
    field.value = line;
    again();
  });
  // The criteria first, alone: a reading typed in the first second waits for nothing else.
  void warmAnswers(base)
    .catch(() => undefined)
    .then(() => new Promise((later) => setTimeout(later)))
    .then(() => Promise.all([warmRanker(), warm(base)]))
    .catch(() => undefined);
}
