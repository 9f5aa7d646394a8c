/** The search page: results as they arrive, the query kept in the address so that going back finds them again. */
import { search, warm } from './engine.ts';

const base = document.body.dataset.base ?? '/';
const field = document.querySelector<HTMLInputElement>('#q');
const list = document.querySelector<HTMLOListElement>('#results');
const status = document.querySelector<HTMLElement>('#search-status');
const most = 12;
let asked = 0;

async function run(): Promise<void> {
  if (!field || !list || !status) return;
  const query = field.value.trim();
  asked += 1;
  const mine = asked;
  history.replaceState(null, '', query === '' ? location.pathname : `?q=${encodeURIComponent(query)}`);
  if (query === '') {
    list.replaceChildren();
    status.textContent = '';
    return;
  }
  try {
    const hits = await search(base, query, most);
    if (mine !== asked) return;
    const items = hits.map(() => document.createElement('li'));
    list.replaceChildren(...items);
    status.textContent =
      hits.length === 0
        ? 'Nothing found. Try another word, or look through all pages.'
        : `${hits.length === most ? `First ${most}` : hits.length} found`;
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
  timer = setTimeout(run, 90);
});
field?.form?.addEventListener('submit', (event) => {
  event.preventDefault();
  clearTimeout(timer);
  void run();
});

void warm(base).catch(() => undefined);
if (field) {
  field.value = new URLSearchParams(location.search).get('q') ?? field.value;
  if (field.value) void run();
}
