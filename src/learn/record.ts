/** The record of learning: days and answers from this device, names that are typed and stored nowhere. */
import { type Asked, type Course, gaps, type LessonDone, learnt, rightIn } from '../../calculators/learning/record.ts';
import { make } from '../browser/dom.ts';
import { sayDate } from '../browser/say-date.ts';
import { today } from '../browser/today.ts';
import { editionWords, type Progress, progress, progressChanged } from './progress.ts';

const course = JSON.parse(
  document.querySelector('[data-course]')?.textContent ?? '{"lessons":[],"cases":[]}',
) as Course;
const none = '\u2013';

const write = (place: string, words: string, within: ParentNode = document) => {
  const found = within.querySelector(`[data-${place}]`);
  if (found) found.textContent = words;
};

/** 'Not complete. Still to do: 3 lessons; the mixed check.' */
function summary(now: Progress): string {
  const { left, lessonsDone, casesCompared } = learnt(course, now);
  const so = `${lessonsDone} of ${course.lessons.length} lessons done, ${casesCompared} of ${course.cases.length} cases compared.`;
  return left.length === 0 ? `Complete. ${so}` : `Not complete. Still to do: ${left.join('; ')}.`;
}

/** Answered is not done: a lesson is done when each of its questions was answered correctly, at whichever try. */
const notDone = ({ asked, of, notRight }: LessonDone): string =>
  `Not done: ${asked} of ${of} answered${notRight === 0 ? '' : `, ${notRight} not yet correctly`}`;

function drawLessons(now: Progress) {
  for (const lesson of learnt(course, now).lessons) {
    const row = document.querySelector<HTMLElement>(`[data-lesson-row="${lesson.id}"]`);
    if (!row) continue;
    write('first', lesson.asked === 0 ? none : `${lesson.rightFirst} of ${lesson.of}`, row);
    write('tries', lesson.asked === 0 ? none : String(lesson.tries), row);
    write('done', lesson.done ? sayDate(lesson.done) : notDone(lesson), row);
  }
}

/** Rows stand on the page for every question and case; those with something to say are shown. */
function drawMissed({ questions }: Progress) {
  const missed = Object.entries(questions).filter(([, { first }]) => first?.right === false);
  for (const row of document.querySelectorAll<HTMLElement>('[data-missed]')) {
    const asked = questions[row.dataset.missed ?? ''];
    row.hidden = asked?.first?.right !== false;
    if (!asked?.first || row.hidden) continue;
    const { option, day } = asked.first;
    row.querySelectorAll<HTMLElement>('[data-option]').forEach((place, at) => {
      place.hidden = at !== option;
    });
    write('day', sayDate(day), row);
    write('tries', String(asked.tries), row);
    write('since', sinceWords(asked), row);
  }
  const table = document.querySelector<HTMLElement>('[data-missed-table]');
  if (table) table.hidden = missed.length === 0;
  drawDiscuss();
  write('missed-none', missed.length === 0 ? 'None so far.' : '');
}

/** Points to discuss, of the lessons in which something was missed. */
function drawDiscuss() {
  const missed = new Set(
    [...document.querySelectorAll<HTMLElement>('[data-missed]:not([hidden])')].map((row) => row.dataset.of),
  );
  for (const line of document.querySelectorAll<HTMLElement>('[data-discuss-of]'))
    line.hidden = !missed.has(line.dataset.discussOf);
  const part = document.querySelector<HTMLElement>('[data-discuss]');
  if (part) part.hidden = missed.size === 0;
}

const sinceWords = ({ right, back }: Asked): string =>
  back
    ? `${back.remembered} of ${gaps.length} times remembered; next ${sayDate(back.due)}`
    : right === undefined
      ? 'not yet answered correctly'
      : 'remembered all three times';

function drawCases({ cases }: Progress) {
  for (const row of document.querySelectorAll<HTMLElement>('[data-case-row]')) {
    const one = cases[row.dataset.caseRow ?? ''];
    row.hidden = one === undefined;
    if (!one) continue;
    write('agreed', one.of === undefined ? 'not kept' : `${one.agreed} of ${one.of}`, row);
    write('day', sayDate(one.day), row);
    write('tries', String(one.tries), row);
  }
  const table = document.querySelector<HTMLElement>('[data-cases-table]');
  if (table) table.hidden = Object.keys(cases).length === 0;
}

function drawChecks(now: Progress) {
  const list = document.querySelector('[data-checks]');
  const lines = learnt(course, now).checks.map((check) =>
    make(
      'li',
      '',
      `${sayDate(check.day)}: ${rightIn(check)} of ${check.ids.length} right at the first answer (handbook ${check.edition})`,
    ),
  );
  list?.replaceChildren(...(lines.length > 0 ? lines : [make('li', '', 'None finished so far.')]));
}

/** The editions in which first answers were given: a later one may ask otherwise. */
function editions({ questions }: Progress): string {
  const found = new Set(Object.values(questions).flatMap(({ first }) => first?.edition ?? []));
  const others = [...found].filter((edition) => edition !== editionWords()).sort();
  return others.length === 0 ? '' : ` Some questions were first answered in edition ${others.join('; ')}.`;
}

function draw() {
  const now = progress();
  write('summary', summary(now));
  write('edition', `Handbook ${editionWords()}. Printed ${sayDate(today())}.${editions(now)}`);
  drawLessons(now);
  drawMissed(now);
  drawCases(now);
  drawChecks(now);
}

const button = document.querySelector<HTMLButtonElement>('[data-print]');
if (button) {
  button.hidden = false;
  button.addEventListener('click', () => print());
}
addEventListener(progressChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
