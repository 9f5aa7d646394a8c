/** The search page: results as they arrive, the query kept in the address so that going back finds them again. */
import { readPerson } from '../person/store.ts';
import { answerView, warmAnswers } from './answer.ts';
import { search, warm } from './engine.ts';

const base = document.body.dataset.base ?? '/';
const field = document.querySelector<HTMLInputElement>('#q');
const list = document.querySelector<HTMLOListElement>('#results');
const status = document.querySelector<HTMLElement>('#search-status');
const instant = document.querySelector<HTMLElement>('#instant');
const most = 12;
let asked = 0;

/**
 * The marks that a typed reading crosses, before any full-text result.
 *
 * @returns what was understood, for the status line, and the words to look pages up by
 */
async function answerReading(query: string): Promise<{ told: string; words: string }> {
  const nothing = { told: '', words: query };
  if (!instant) return nothing;
  const answers = await warmAnswers(base);
  if (field?.value.trim() !== query) return nothing;
  const asked = query === '' ? undefined : answers.read(query);
  instant.replaceChildren();
  if (!asked) return nothing;
  instant.append(
    answerView(asked, readPerson(), answers, base, (option) => {
      instant.replaceChildren(answerView(option, readPerson(), answers, base, () => undefined));
    }),
  );
  const measure = asked.kind === 'reading' ? answers.data.measures[asked.measure] : undefined;
  return { told: instant.querySelector('h2, p')?.textContent ?? '', words: measure?.label ?? query };
}

async function run(): Promise<void> {
  if (!field || !list || !status) return;
  const query = field.value.trim();
  asked += 1;
  const mine = asked;
  history.replaceState(null, '', query === '' ? location.pathname : `?q=${encodeURIComponent(query)}`);
  if (query === '') {
    instant?.replaceChildren();
    list.replaceChildren();
    status.textContent = '';
    return;
  }
  const { told, words } = await answerReading(query).catch(() => ({ told: '', words: query }));
  try {
    const hits = await search(base, words, most);
    if (mine !== asked) return;
    const items = hits.map(() => document.createElement('li'));
    list.replaceChildren(...items);
    status.textContent =
      hits.length === 0 && told === ''
        ? 'Nothing found. Try another word, or look through all pages.'
        : [told, `${hits.length === most ? `first ${most}` : hits.length} pages found`].filter(Boolean).join('. ');
    await Promise.all(
      hits.map(async (pending, place) => {
        const hit = await pending;
        const link = document.createElement('a');
        link.href = hit.url;
        link.textContent = hit.title;
        const excerpt = document.createElement('p');
        // Our own pages' text, escaped by the engine; the only markup in it is <mark>.
        excerpt.innerHTML = hit.excerpt;
        items[place]?.replaceChildren(link, excerpt);
      }),
    );
  } catch {
    if (mine === asked)
      status.textContent =
        'Search could not start in this browser. All pages are listed with their search words: see the link below.';
  }
}

let timer: ReturnType<typeof setTimeout> | undefined;
field?.addEventListener('input', () => {
  clearTimeout(timer);
  timer = setTimeout(run, 60);
});
field?.form?.addEventListener('submit', (event) => {
  event.preventDefault();
  clearTimeout(timer);
  void run();
});

void warmAnswers(base).catch(() => undefined);
void warm(base).catch(() => undefined);
if (field) {
  const asked = new URLSearchParams(location.search);
  // A measuring page's field sends the number and the name of its measure apart.
  field.value = [asked.get('m'), asked.get('q')].filter(Boolean).join(' ') || field.value;
  if (field.value) void run();
}
