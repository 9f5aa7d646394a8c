/** Missed questions on the day they come back, one at a time. */
import { dueOn, nextDue } from '../../calculators/learning/record.ts';
import { sayDate } from '../browser/say-date.ts';
import { today } from '../browser/today.ts';
import { ask, hideAll, questionIn } from './one-at-a-time.ts';
import { progress } from './progress.ts';

const said = document.querySelector<HTMLElement>('[data-said]');

function end(focus: boolean) {
  hideAll();
  if (!said) return;
  const next = nextDue(progress().questions);
  said.textContent =
    next === undefined
      ? 'No question comes back: you have missed none, or have remembered them all.'
      : `No questions are left for today. The next question comes back on ${sayDate(next)}.`;
  if (focus) said.focus();
}

// A question of an earlier edition may be gone.
const due = dueOn(progress().questions, today()).filter(questionIn);
if (due.length === 0) end(false);
else ask({ ids: due, from: 0, focus: false, onFirst: () => {}, onEnd: () => end(true) });
