/** The path with what has been done on this device, and the tap that clears it. */
import { dayOfAll, dueOn, isFinished, rightIn } from '../../calculators/learning/record.ts';
import { sayDate } from '../browser/say-date.ts';
import { today } from '../browser/today.ts';
import { clear, daysOf, type Progress, progress, progressChanged } from './progress.ts';

const button = document.querySelector<HTMLButtonElement>('[data-clear]');
const clearedStatus = document.querySelector('[data-cleared]');

function draw() {
  const now = progress();
  const { questions, cases } = now;
  const days = daysOf(now);
  let lessons = 0;
  const links = document.querySelectorAll<HTMLElement>('.path [data-asked]');
  for (const link of links) {
    const asked = (link.dataset.asked ?? '').split(' ').filter(Boolean);
    const day = dayOfAll(asked, days);
    const right = asked.filter((id) => days[id] !== undefined).length;
    link.toggleAttribute('data-done', day !== undefined);
    if (day !== undefined) lessons += 1;
    const state = link.querySelector('[data-state]');
    if (state)
      state.textContent =
        day !== undefined
          ? ` \u00b7 done ${sayDate(day)}`
          : right > 0
            ? ` \u00b7 ${right} of ${asked.length} questions`
            : '';
  }
  const compared = Object.keys(cases).length;
  const place = document.querySelector('[data-cases]');
  if (place) place.textContent = compared > 0 ? ` \u00b7 ${compared} compared` : '';
  const words = document.querySelector('[data-progress]');
  if (words)
    words.textContent = `${lessons} of ${links.length} lessons done, ${compared} ${compared === 1 ? 'case' : 'cases'} compared.`;
  drawBack(now);
  drawChecked(now);
  if (button) button.hidden = lessons + compared + Object.keys(questions).length === 0;
}

/** Missed questions whose day has come, where a student begins. */
function drawBack({ questions }: Progress) {
  const place = document.querySelector<HTMLElement>('[data-back]');
  const due = dueOn(questions, today()).length;
  if (!place) return;
  place.hidden = due === 0;
  const button = place.querySelector('a');
  if (button) button.textContent = due === 1 ? 'One question comes back today' : `${due} questions come back today`;
}

function drawChecked({ checks }: Progress) {
  const last = checks.filter(isFinished).at(-1);
  const place = document.querySelector('[data-checked]');
  if (place)
    place.textContent = last ? ` \u00b7 ${rightIn(last)} of ${last.ids.length} right, ${sayDate(last.day)}` : '';
}

button?.addEventListener('click', () => {
  clear();
  if (clearedStatus) clearedStatus.textContent = 'Cleared. This device has no record of your lessons now.';
});
addEventListener(progressChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
