/** What there is to do, for the script that says how far a student is: on the page as plain data. */
import type { Course } from '../../calculators/learning/record.ts';
import { cases, lessons, questionsOf, slugOf } from './content.ts';

export const course: Course = {
  lessons: lessons.map((lesson) => ({ id: slugOf(lesson), questions: questionsOf(lesson).map(({ id }) => id) })),
  cases: cases.map(({ id }) => id),
};
