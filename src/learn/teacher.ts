/** The record of completion: days from this device, a name that is typed and stored nowhere. */
import { dayOfAll, progress, progressChanged } from './progress.ts';

function draw() {
  const { questions, cases } = progress();
  for (const cell of document.querySelectorAll<HTMLElement>('[data-asked]')) {
    const asked = (cell.dataset.asked ?? '').split(' ').filter(Boolean);
    const right = asked.filter((id) => questions[id] !== undefined).length;
    cell.textContent = dayOfAll(asked, questions) ?? (right > 0 ? `${right} of ${asked.length}` : '\u2013');
  }
  const place = document.querySelector('[data-compared]');
  if (place) place.textContent = String(Object.keys(cases).length);
}

const button = document.querySelector<HTMLButtonElement>('[data-print]');
if (button) {
  button.hidden = false;
  button.addEventListener('click', () => print());
}
addEventListener(progressChanged, draw);
draw();
