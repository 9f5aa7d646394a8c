/**
 * The lists of criteria on a page, narrowed to one disease: the current person's, or the one chosen here. The choice is in the
 * tab's storage with the typed lines, names nobody, and goes with the person.
 */
import { personChanged, readLines, readPerson, writeLines } from './store.ts';

interface Chosen {
  disease: string;
  /** of the person at that time: of another person the choice says nothing */
  whose: string;
  at: number;
}

const key = 'list';
const form = document.querySelector('.for');
const field = form?.querySelector('select');
const told = form?.querySelector('[role]');

const own = (): string => readPerson().disease ?? '';

function wanted(): string {
  const chosen = readLines<Chosen>()[key];
  return chosen?.whose === own() ? chosen.disease : own();
}

function show(): void {
  if (!field || !told) return;
  const disease = wanted();
  field.value = disease;
  const letter = field.selectedOptions[0]?.dataset.letter ?? '';
  let shown = 0;
  let all = 0;
  for (const part of document.querySelectorAll<HTMLElement>('.criteria [data-in]')) {
    part.hidden = !part.dataset.in?.includes(letter);
    if (!part.matches('.more')) continue;
    all += 1;
    if (!part.hidden) shown += 1;
  }
  for (const line of document.querySelectorAll<HTMLElement>('.criteria .mark:has([data-in])'))
    line.hidden = line.querySelector('.more:not([hidden])') === null;
  for (const group of document.querySelectorAll<HTMLElement>('.criteria .group'))
    group.hidden = group.querySelector('.mark:not([hidden])') === null;
  for (const count of document.querySelectorAll('.criteria [data-count]'))
    count.textContent = String(count.closest('details')?.querySelectorAll('.more:not([hidden])').length);
  told.textContent = disease === '' ? 'All are shown.' : `${shown} of ${all} on this page are shown.`;
}

field?.addEventListener('change', () => {
  writeLines({ ...readLines<Chosen>(), [key]: { disease: field.value, whose: own(), at: Date.now() } });
  show();
});
addEventListener(personChanged, show);
show();
form?.classList.add('ready');
