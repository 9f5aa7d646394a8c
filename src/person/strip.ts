/**
 * Loaded on every page: the header line that names the person, and the button that clears what was entered. Its words,
 * and the question before anything is cleared, are fetched only while something is stored.
 */
import { still } from './still.ts';
import { dropExpired, dropFromBefore, isAnythingStored, lastNext, nextPerson, personChanged } from './store.ts';
import { hearOtherTabs, tellOtherTabs } from './tabs.ts';

const strip = document.querySelector<HTMLElement>('[data-person]');
const button = strip?.querySelector('button');
const asking = () => import('./next.ts');

function draw() {
  if (!strip) return;
  const anythingStored = isAnythingStored();
  strip.hidden = !anythingStored && !strip.querySelector('.undo');
  if (anythingStored)
    asking().then(
      ({ nameIn }) => nameIn(strip),
      () => undefined,
    );
}

button?.addEventListener('click', () =>
  asking().then(
    ({ askNext }) => askNext(button),
    // Without a signal and an offline copy that part may not come. The button then says what its next press does.
    () => {
      button.textContent = 'Clear: no undo';
      button.onclick = () => {
        nextPerson();
        tellOtherTabs();
      };
    },
  ),
);
addEventListener(personChanged, () => still(draw));
// A page that the browser kept for the Back button still shows what 'next person' cleared meanwhile. If nobody pressed it,
// what was typed on the page stays.
let nextThen: string | undefined;
addEventListener('pagehide', () => {
  nextThen = lastNext();
});
addEventListener('pageshow', ({ persisted }) => {
  const next = lastNext();
  if (!persisted) return;
  const same = next && next === nextThen;
  if (next && !same) dropFromBefore(next);
  dispatchEvent(new CustomEvent(personChanged, same ? {} : { detail: 'next' }));
});
hearOtherTabs(() =>
  asking().then(
    ({ clearPerson }) => clearPerson(),
    () => nextPerson(),
  ),
);
document.addEventListener('visibilitychange', dropExpired);
setInterval(dropExpired, 60_000);
dropExpired();
draw();
