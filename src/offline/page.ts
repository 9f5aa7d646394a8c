/** The page about the saved copy: what is here, how far saving is, and the buttons that change it. */
import { base } from '../browser/base.ts';
import { inCharge } from './in-charge.ts';
import { use } from './notice.ts';

interface Version {
  version: string;
  built: string;
  files: number;
  bytes: number;
}

const find = <E extends HTMLElement>(selector: string): E | null => document.querySelector<E>(selector);
const state = find('[data-kept-state]');
const progress = find<HTMLProgressElement>('[data-kept-progress]');
const about = find('[data-kept-about]');
const button = (name: string) => find<HTMLButtonElement>(`[data-do="${name}"]`);
const show = (name: string, on: boolean) => {
  const found = button(name);
  if (found) found.hidden = !on;
};
const write = (name: string, words: string) => {
  const place = find(`[data-kept="${name}"]`);
  if (place) place.textContent = words;
};
const say = (words: string) => {
  if (state && state.textContent !== words) state.textContent = words;
};
const workers: ServiceWorkerContainer | undefined = navigator.serviceWorker;

/** An installing worker tells this often; only each tenth part of the way is spoken. */
function installing(done: number, of: number): void {
  const percent = Math.floor((100 * done) / of);
  if (progress) {
    progress.hidden = false;
    progress.value = percent;
  }
  show('save', false);
  say(`Saving: ${Math.floor(percent / 10) * 10} %. You can leave this page; nothing is lost if saving is interrupted.`);
}

/** The message comes from the waiting worker: the one in use was written before that version and cannot know of it. */
let newer: Version | undefined;

async function ready(current: Version): Promise<void> {
  if (progress) progress.hidden = true;
  say(
    newer
      ? `Saved. The handbook works on this device without a signal. A newer version, built ${newer.built}, is ready.`
      : 'Saved. The handbook works on this device without a signal.',
  );
  if (about) about.hidden = false;
  write('version', current.version);
  write('built', current.built);
  write('size', `${(current.bytes / 1e6).toFixed(1)} MB in ${current.files} files`);
  const persisted = await navigator.storage?.persisted?.();
  write('persisted', persisted ? 'Until you remove it' : 'For as long as there is space and you use the handbook');
  show('persist', persisted === false);
  show('remove', true);
  show('save', false);
  show('use', newer !== undefined);
}

function absent(words: string): void {
  if (progress) progress.hidden = true;
  if (about) about.hidden = true;
  say(words);
  for (const name of ['use', 'persist', 'remove']) show(name, false);
  show('save', workers !== undefined);
}

const reasons: Record<string, string> = {
  full: 'This device has no space for the handbook. Free some space, then save again.',
  changed:
    "What was downloaded was not this version. It may have been the network's sign-in page, or the site was being updated. The download is tried again the next time you open the handbook.",
  signal:
    'The signal was lost. What has been downloaded so far stays, and saving continues the next time you open the handbook.',
};

workers?.addEventListener('message', ({ data }) => {
  if (data.progress) installing(data.progress.done, data.progress.of);
  else if (data.kind === 'installing') installing(data.done, data.of);
  else if (data.kind === 'state' && data.ready) {
    newer = data.newer ?? newer;
    void inCharge(workers).then(() => ready(data.current));
  } else if (data.kind === 'installed' || data.kind === 'in-use') void ask();
  else if (data.kind === 'failed' && !data.update) absent(`Not saved. ${reasons[data.why]}`);
  else if (data.kind === 'failed')
    say(`A newer version is not saved yet; the version on this device keeps working. ${reasons[data.why]}`);
});

async function ask(): Promise<void> {
  if (!workers) return absent('Not saved. This browser, or this private window, stores nothing for sites.');
  newer = undefined;
  const registration = await workers.getRegistration(base);
  registration?.waiting?.postMessage('state');
  if (registration?.active) registration.active.postMessage('check');
  else if (registration?.installing) registration.installing.postMessage('state');
  else absent('Not saved on this device yet.');
}

/** The choice lasts on this device: a copy that was removed does not come back by itself. */
function choose(choice: 'yes' | 'no'): void {
  try {
    localStorage.setItem('tidemark:save', choice);
  } catch {
    // lasts as long as this page
  }
}

button('save')?.addEventListener('click', async () => {
  choose('yes');
  installing(0, 1);
  try {
    await workers?.register(`${base}sw.js`, { scope: base });
    await ask();
  } catch {
    absent('Not saved. The site could not be reached, or the browser refused. Try again when you are online.');
  }
});
button('use')?.addEventListener('click', () => void use());
button('persist')?.addEventListener('click', async () => {
  await navigator.storage?.persist?.();
  await ask();
});
button('remove')?.addEventListener('click', async () => {
  choose('no');
  await (await workers?.getRegistration(base))?.unregister();
  const prefix = `tidemark:${new URL(base, location.href).pathname}:`;
  for (const name of await caches.keys()) if (name.startsWith(prefix)) await caches.delete(name);
  absent('Removed from this device.');
});

/** Chromium's offer to install, stored until the reader asks for it. */
addEventListener('beforeinstallprompt', (event) => {
  event.preventDefault();
  show('home-screen', true);
  button('home-screen')?.addEventListener(
    'click',
    () => void (event as Event & { prompt: () => Promise<void> }).prompt(),
    {
      once: true,
    },
  );
});

// An icon on the home screen is a wish to keep it: browsers that decide by themselves are asked without a question.
if (matchMedia('(display-mode: standalone)').matches) void navigator.storage?.persist?.();
void ask();
