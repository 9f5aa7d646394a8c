/** The mixed check: twenty questions drawn anew each time, one at a time; one that was left is gone on with. */
import { drawCheck, type InPool } from '../../calculators/learning/mixed-check.ts';
import { type Check, isFinished, rightIn } from '../../calculators/learning/record.ts';
import { sayDate } from '../browser/say-date.ts';
import { ask, hideAll, questionIn } from './one-at-a-time.ts';
import { answeredInCheck, beginCheck, progress } from './progress.ts';

const begin = document.querySelector<HTMLButtonElement>('[data-begin]');
const said = document.querySelector<HTMLElement>('[data-said]');
const pool = [...document.querySelectorAll<HTMLElement>('[data-question]')].map(
  ({ dataset }) => ({ id: dataset.question, kind: dataset.kind }) as InPool,
);

/** The check that was begun and not finished, if its questions are still on the page. */
const unfinished = (): Check | undefined => {
  const last = progress().checks.at(-1);
  return last && !isFinished(last) && last.ids.every(questionIn) ? last : undefined;
};

function offer(words: string, button: string) {
  hideAll();
  if (said) said.textContent = words;
  if (begin) {
    begin.textContent = button;
    begin.hidden = false;
  }
}

const numbersAlready = (check: Check): string =>
  `${rightIn(check)} of ${check.ids.length} right at the first answer, on ${sayDate(check.day)}.`;

function start() {
  let check = unfinished();
  if (!check) {
    const seen = new Set(progress().checks.flatMap(({ ids }) => ids));
    const [seed = 1] = crypto.getRandomValues(new Uint32Array(1));
    beginCheck(drawCheck(pool, seen, seed));
    check = progress().checks.at(-1);
  }
  if (!check) return;
  const { ids, first } = check;
  if (begin) begin.hidden = true;
  if (said) said.textContent = '';
  ask({ ids, from: ids.filter((id) => id in first).length, focus: true, onFirst: answeredInCheck, onEnd: end });
}

function end() {
  const last = progress().checks.at(-1);
  if (!last || !isFinished(last)) return;
  offer(
    `Done: ${numbersAlready(last)} Questions you missed come back on the learning page after 1, 3 and 7 days.`,
    'Begin another check',
  );
  said?.focus();
}

const left = unfinished();
const finished = progress().checks.filter(isFinished).at(-1);
if (left)
  offer(
    `You began a check on ${sayDate(left.day)}: ${Object.keys(left.first).length} of ${left.ids.length} questions are answered.`,
    'Go on with it',
  );
else offer(finished ? `Your last check: ${numbersAlready(finished)}` : '', finished ? 'Begin another check' : 'Begin');
begin?.addEventListener('click', start);
