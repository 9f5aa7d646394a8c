/** A newer version is offered, never forced: a page of the version before works until it is loaded again. */
import { make } from '../browser/dom.ts';

const laterKey = 'tidemark:later';
let bar: HTMLElement | undefined;
let asked = false;

export function show(event: 'ready' | 'in-use'): void {
  if (event === 'in-use' && asked) location.reload();
  else if (event === 'in-use')
    draw('This page is out of date. A newer version is in use.', 'Load this page again', () => location.reload());
  else if (!putOff()) draw('A newer version is ready. What is on the visit sheet stays.', 'Use it now', use);
}

/** Asks the worker of the newer version to take over; its answer loads this page again, and offers that to other tabs. */
export async function use(): Promise<void> {
  asked = true;
  const registration = await navigator.serviceWorker.getRegistration();
  (registration?.waiting ?? registration?.active)?.postMessage('take-over');
}

function draw(words: string, yes: string, act: () => void): void {
  bar?.remove();
  const message = make('p', '');
  const now = make('button', 'main', yes);
  const later = make('button', '', 'Later');
  for (const button of [now, later]) button.type = 'button';
  now.addEventListener('click', act);
  later.addEventListener('click', () => {
    putOff(true);
    bar?.remove();
  });
  bar = make('div', 'notice', message, now, later);
  bar.setAttribute('role', 'status');
  document.body.append(bar);
  // A screen reader announces what changes in a region, so the region has to be there first.
  setTimeout(() => {
    message.textContent = words;
  }, 100);
}

/** 'Later' lasts as long as the tab. */
function putOff(now = false): boolean {
  try {
    if (now) sessionStorage.setItem(laterKey, 'yes');
    return sessionStorage.getItem(laterKey) !== null;
  } catch {
    return now;
  }
}
