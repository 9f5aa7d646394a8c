/**
 * What a student has done, and when a missed question comes back. Dates come in as 'YYYY-MM-DD': no clock here.
 *
 * A question that was answered wrongly comes back after 1, 3 and 7 days. It leaves the list when it was answered correctly at
 * all three; a wrong answer begins again. Answers before the day change nothing, so that trying again at once in the lesson
 * does not count as remembering.
 */
import { dateOf, dayCount } from '../calendar.ts';

/** Days until a missed question is asked again, and until it is asked again after that. */
export const gaps = [1, 3, 7] as const;

export interface Try {
  day: string;
  /** which option was chosen, from 0 */
  option: number;
  right: boolean;
  /** of the handbook: '0.2.0, 2026-11-29' */
  edition: string;
}

export interface Asked {
  /** undefined only in a record of a version that kept the day alone */
  first?: Try | undefined;
  tries: number;
  /** the first day on which it was answered correctly */
  right?: string | undefined;
  /** missed: how many of the three times it was remembered, and the day of the next */
  back?: { remembered: number; due: string } | undefined;
}

const later = (day: string, days: number): string => dateOf(dayCount(day) + days);

/** A question after one more answer. */
export function afterTry(before: Asked | undefined, one: Try): Asked {
  const right = before?.right ?? (one.right ? one.day : undefined);
  const back = nextBack(before?.back, one);
  return {
    first: before ? before.first : one,
    tries: (before?.tries ?? 0) + 1,
    ...(right === undefined ? {} : { right }),
    ...(back === undefined ? {} : { back }),
  };
}

function nextBack(back: Asked['back'], { day, right }: Try): Asked['back'] {
  if (!right) return { remembered: 0, due: later(day, gaps[0]) };
  if (back === undefined || !isDue(back.due, day)) return back;
  const remembered = back.remembered + 1;
  const wait = gaps[remembered];
  return wait === undefined ? undefined : { remembered, due: later(day, wait) };
}

/**
 * Whether that day has come. A day further off than the longest wait was written by a clock that was ahead: it counts as
 * come, or the question would be gone for good.
 */
const isDue = (due: string, today: string): boolean => {
  const left = dayCount(due) - dayCount(today);
  return !(left > 0 && left <= Math.max(...gaps));
};

/** Questions to ask again on this day, those that have waited longest first. */
export const dueOn = (questions: Readonly<Record<string, Asked>>, today: string): string[] =>
  Object.entries(questions)
    .flatMap(([id, { back }]) => (back && isDue(back.due, today) ? [{ id, due: back.due }] : []))
    .sort((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : a.id < b.id ? -1 : 1))
    .map(({ id }) => id);

/** The next day on which a question comes back; none where none does. */
export const nextDue = (questions: Readonly<Record<string, Asked>>): string | undefined =>
  Object.values(questions)
    .flatMap(({ back }) => (back ? [back.due] : []))
    .sort()[0];

export interface Compared {
  /** the first time: its day, and on how many of how many criteria student and evaluator agreed */
  day: string;
  agreed?: number | undefined;
  of?: number | undefined;
  tries: number;
}

/** One mixed check: its day, its questions in order, and how each was answered first. */
export interface Check {
  day: string;
  edition: string;
  ids: string[];
  first: Record<string, boolean>;
}

export const isFinished = ({ ids, first }: Check): boolean => ids.length > 0 && ids.every((id) => id in first);
export const rightIn = ({ ids, first }: Check): number => ids.filter((id) => first[id] === true).length;

/** The last of the days on which the parts of something were done; none while one is missing. */
export function dayOfAll(
  ids: readonly string[],
  days: Readonly<Record<string, string | undefined>>,
): string | undefined {
  const found = ids.map((id) => days[id]);
  return found.length === 0 || found.includes(undefined) ? undefined : found.sort().at(-1);
}

/** What there is to do: lessons with their questions, the cases, the questions of the check. */
export interface Course {
  lessons: { id: string; questions: string[] }[];
  cases: string[];
}

export interface LessonDone {
  id: string;
  asked: number;
  of: number;
  /** right at the first answer */
  rightFirst: number;
  tries: number;
  /** answered, and never correctly so far */
  notRight: number;
  /** the day on which its last question was answered correctly */
  done?: string | undefined;
}

export interface Learnt {
  lessons: LessonDone[];
  lessonsDone: number;
  casesCompared: number;
  /** finished checks */
  checks: Check[];
  /** missed questions that have not been remembered three times */
  comingBack: number;
  /** what is left, in words; empty when everything was done */
  left: string[];
}

export interface Done {
  questions: Readonly<Record<string, Asked>>;
  cases: Readonly<Record<string, Compared>>;
  checks: readonly Check[];
}

/** Where a student stands; complete only when nothing is left. */
export function learnt(course: Course, { questions, cases, checks }: Done): Learnt {
  const lessons = course.lessons.map((lesson) => lessonDone(lesson, questions));
  const lessonsDone = lessons.filter(({ done }) => done !== undefined).length;
  const casesCompared = course.cases.filter((id) => cases[id] !== undefined).length;
  const finished = checks.filter(isFinished);
  const comingBack = Object.values(questions).filter(({ back }) => back !== undefined).length;
  return {
    lessons,
    lessonsDone,
    casesCompared,
    checks: finished,
    comingBack,
    left: [
      ...leftOf(course.lessons.length - lessonsDone, 'lesson'),
      ...leftOf(course.cases.length - casesCompared, 'case'),
      ...(finished.length === 0 ? ['the mixed check'] : []),
      ...(comingBack > 0 ? [`${counted(comingBack, 'missed question')} still to be remembered`] : []),
    ],
  };
}

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;
const leftOf = (count: number, what: string): string[] => (count > 0 ? [counted(count, what)] : []);

function lessonDone({ id, questions: ids }: Course['lessons'][number], questions: Done['questions']): LessonDone {
  const found = ids.flatMap((question) => questions[question] ?? []);
  return {
    id,
    asked: found.length,
    of: ids.length,
    rightFirst: found.filter(({ first }) => first?.right).length,
    tries: found.reduce((sum, { tries }) => sum + tries, 0),
    notRight: found.filter(({ right }) => right === undefined).length,
    done: dayOfAll(ids, Object.fromEntries(ids.map((question) => [question, questions[question]?.right]))),
  };
}
