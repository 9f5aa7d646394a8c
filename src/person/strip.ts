/** Loaded on every page: the header line that says whose marks these are, and the offline worker's registration. */
import { diseaseShort } from '../../calculators/criteria/disease-short.ts';
import { dropExpired, nextPerson, personChanged, readPerson } from './store.ts';

const strip = document.querySelector<HTMLElement>('[data-person]');

function draw() {
  if (!strip) return;
  const { disease, ageYears, sex, heightCm } = readPerson();
  const words = [
    disease && diseaseShort[disease],
    ageYears !== undefined && `${Math.floor(ageYears)}\u00a0years`,
    ageYears !== undefined && ageYears < 18 && 'child: adult marks hidden',
    sex,
    heightCm !== undefined && `${Math.round(heightCm)}\u00a0cm`,
  ].filter(Boolean);
  strip.hidden = words.length === 0;
  const line = strip.querySelector('[data-person-words]');
  if (line) line.textContent = words.join(' \u00b7 ');
}

/** Nothing under a thumb may move: the tap that leaves a field brings this line up, and must still land where it was aimed. */
function redraw() {
  const top = () => document.querySelector('main')?.getBoundingClientRect().top ?? 0;
  const before = top();
  draw();
  scrollBy(0, top() - before);
}

strip?.querySelector('button')?.addEventListener('click', nextPerson);
addEventListener(personChanged, redraw);
addEventListener('pageshow', (event) => {
  // A page kept whole by the browser and found again with the Back button may hold what 'next person' cleared meanwhile.
  if (event.persisted) dispatchEvent(new CustomEvent(personChanged, { detail: 'next' }));
});
document.addEventListener('visibilitychange', dropExpired);
setInterval(dropExpired, 60_000);
dropExpired();
draw();
