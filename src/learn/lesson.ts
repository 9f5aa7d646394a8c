/** At the foot of a lesson: how many of its questions are answered, on this device. */
import { dayOfAll, progress, progressChanged } from './progress.ts';

const place = document.querySelector<HTMLElement>('[data-lesson]');
const asked = (place?.dataset.asked ?? '').split(' ').filter(Boolean);

function draw() {
  if (!place) return;
  const { questions } = progress();
  const right = asked.filter((id) => questions[id] !== undefined).length;
  place.textContent =
    dayOfAll(asked, questions) === undefined
      ? `${right} of ${asked.length} questions answered. A lesson is done when all are.`
      : 'This lesson is done.';
}

addEventListener(progressChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
