/** The path with what has been done on this device, and the tap that clears it. */
import { clear, dayOfAll, progress, progressChanged } from './progress.ts';

const button = document.querySelector<HTMLButtonElement>('[data-clear]');
const clearedStatus = document.querySelector('[data-cleared]');

function draw() {
  const { questions, cases } = progress();
  let lessons = 0;
  const links = document.querySelectorAll<HTMLElement>('.path [data-asked]');
  for (const link of links) {
    const asked = (link.dataset.asked ?? '').split(' ').filter(Boolean);
    const day = dayOfAll(asked, questions);
    const right = asked.filter((id) => questions[id] !== undefined).length;
    link.toggleAttribute('data-done', day !== undefined);
    if (day !== undefined) lessons += 1;
    const state = link.querySelector('[data-state]');
    if (state)
      state.textContent =
        day !== undefined ? ` \u00b7 done ${day}` : right > 0 ? ` \u00b7 ${right} of ${asked.length} questions` : '';
  }
  const compared = Object.keys(cases).length;
  const place = document.querySelector('[data-cases]');
  if (place) place.textContent = compared > 0 ? ` \u00b7 ${compared} compared` : '';
  const words = document.querySelector('[data-progress]');
  if (words)
    words.textContent = `${lessons} of ${links.length} lessons done, ${compared} ${compared === 1 ? 'case' : 'cases'} compared.`;
  if (button) button.hidden = lessons + compared + Object.keys(questions).length === 0;
}

button?.addEventListener('click', () => {
  clear();
  if (clearedStatus) clearedStatus.textContent = 'Cleared. This device has no record of your lessons now.';
});
addEventListener(progressChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
