/** On every page: saves the site in the background, and says in one line at the foot how far that is. */

import { agreementChanged, isOn, kept } from '../agreement/store.ts';
import { base } from '../browser/base.ts';
import { today } from '../browser/today.ts';
import { isOld, usualMonths } from './age.ts';
import { inCharge } from './in-charge.ts';

const line = document.querySelector<HTMLElement>('[data-offline]');
const workers: ServiceWorkerContainer | undefined = navigator.serviceWorker;
/** A page that came from the network cannot be of an older version than the copy that was just saved. */
const fromCopy = workers?.controller != null;

const say = (words: string) => {
  if (line) line.textContent = words;
};
const notice = (event: 'ready' | 'in-use') => import('./notice.ts').then(({ show }) => show(event));

workers?.addEventListener('message', ({ data }) => {
  const { kind, done, of } = data.progress ? { kind: 'installing', ...data.progress } : data;
  if (kind === 'installing') say(`Saving on this device: ${Math.floor((100 * done) / of)} %.`);
  if (kind === 'failed')
    say(
      `${data.update ? 'Saved; a newer version is not' : 'Not saved'}: ${data.why === 'full' ? 'no space on this device' : 'saving continues the next time you open the handbook'}.`,
    );
  if (data.ready || kind === 'installed') inCharge(workers).then(() => say('Saved on this device for use offline.'));
  if (data.newer || data.first === false) notice('ready');
  if (kind === 'in-use' && fromCopy) notice('in-use');
});

/** The reader's own choice on the page about it; without one, a phone that saves data is left alone. */
function wanted(): boolean {
  let choice: string | null = null;
  try {
    choice = localStorage.getItem('tidemark:save');
  } catch {
    // nothing chosen
  }
  const saving = (navigator as { connection?: { saveData?: boolean } }).connection?.saveData === true;
  return choice === 'yes' || (choice !== 'no' && !saving);
}

async function install(): Promise<void> {
  if (!workers) return say('This browser cannot save the handbook.');
  if (!wanted() && !workers.controller) return say('Not saved on this device.');
  try {
    const registration = await workers.register(`${base}sw.js`, { scope: base });
    if (registration.waiting && registration.active) notice('ready');
    registration.active?.postMessage('check');
    registration.installing?.postMessage('state');
  } catch {
    if (!workers.controller) say('Not saved on this device.');
  }
}

if (import.meta.env.PROD) {
  if (document.readyState === 'complete') install();
  else addEventListener('load', install, { once: true });
  addEventListener('online', install);
}

/** An old copy says so and goes on working. A clinic's own limit applies while its agreement is in force. */
const old = document.querySelector<HTMLElement>('[data-built]');
const age = () => {
  const { built = '', stale } = old?.dataset ?? {};
  const agreement = kept()?.agreement;
  const limit = isOn() ? Number(agreement ? agreement.staleAfterMonths : stale) : Number.NaN;
  if (old) old.hidden = !isOld(built, limit >= 0 ? limit : usualMonths, today());
};
age();
addEventListener(agreementChanged, age);
