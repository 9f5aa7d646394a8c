/** Loaded on every page: the header line that says whose marks these are, and the offline worker's registration. */
import { diseaseShort } from '../../calculators/criteria/person.ts';
import { nextPerson, personChanged, readPerson } from './store.ts';

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

strip?.querySelector('button')?.addEventListener('click', nextPerson);
addEventListener(personChanged, draw);
addEventListener('pageshow', draw);
draw();
