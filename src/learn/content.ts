/** The teaching part as its pages use it: lessons in order, their questions, cases, competencies. */
import { getCollection } from 'astro:content';
import type { Case } from '../../calculators/learning/case.ts';
import type { Competency } from '../../calculators/learning/competency.ts';
import type { Question } from '../../calculators/learning/question.ts';
import { fillNumbers } from '../evidence/fill-numbers.ts';

const spoken = (question: Question): Question => ({
  ...question,
  asks: fillNumbers(question.asks),
  options: question.options.map((option) => ({
    ...option,
    text: fillNumbers(option.text),
    because: fillNumbers(option.because),
  })),
});

export const questions: Question[] = (await getCollection('questions')).map(({ data }) => spoken(data as Question));

export const cases: { id: string; one: Case }[] = (await getCollection('cases'))
  .map(({ id, data }) => ({ id, one: data as Case }))
  .sort((a, b) => a.one.order - b.one.order);

export const competencies: Record<string, Competency> = Object.fromEntries(
  (await getCollection('competencies')).map(({ id, data }) => [id, data as Competency]),
);

export const lessons = (await getCollection('handbook'))
  .filter(({ data }) => data.lesson !== undefined)
  .sort((a, b) => (a.data.lesson ?? 0) - (b.data.lesson ?? 0));

/** 'how-breathing-fails' of 'learn/how-breathing-fails' */
export const slugOf = (lesson: { id: string }): string => lesson.id.replace(/^learn\//, '');
/** Asked at the end of that lesson; those of the mixed check come after all lessons. */
export const questionsOf = (lesson: { id: string }): Question[] =>
  questions.filter((question) => question.in === 'lesson' && question.lesson === slugOf(lesson));
export const checkQuestions: Question[] = questions.filter((question) => question.in === 'check');

for (const lesson of lessons)
  for (const id of lesson.data.covers)
    if (!competencies[id]) throw new Error(`content/handbook/${lesson.id}.mdx, covers: no competency "${id}"`);
