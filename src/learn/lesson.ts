/** At the foot of a lesson: how many of its questions are answered, on this device. */
import { dayOfAll } from '../../calculators/learning/record.ts';
import { daysOf, progress, progressChanged } from './progress.ts';

const place = document.querySelector<HTMLElement>('[data-lesson]');
const asked = (place?.dataset.asked ?? '').split(' ').filter(Boolean);

function draw() {
  if (!place) return;
  const now = progress();
  const days = daysOf(now);
  const right = asked.filter((id) => days[id] !== undefined).length;
  const back = asked.some((id) => now.questions[id]?.back);
  place.textContent = `${
    dayOfAll(asked, days) === undefined
      ? `${right} of ${asked.length} questions answered. A lesson is done when all are answered correctly.`
      : 'This lesson is done.'
  }${back ? ' A question you missed comes back tomorrow, on the learning page.' : ''}`;
}

addEventListener(progressChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
