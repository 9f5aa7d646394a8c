/** The record of learning: first answers that stay, missed questions that come back, and what is left to do. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dateOf, dayCount } from '../../../calculators/calendar.ts';
import {
  type Asked,
  afterTry,
  type Check,
  type Course,
  dayOfAll,
  dueOn,
  gaps,
  isFinished,
  learnt,
  nextDue,
  rightIn,
  type Try,
} from '../../../calculators/learning/record.ts';

const start = '2026-11-30';
const later = (days: number): string => dateOf(dayCount(start) + days);
const one = (right: boolean, days = 0, option = right ? 1 : 0): Try => ({
  day: later(days),
  option,
  right,
  edition: '0.2.0, 2026-11-29',
});
/** A question answered so, each answer on its day. */
const answeredSo = (...tries: Try[]): Asked => {
  const asked = tries.reduce<Asked | undefined>(afterTry, undefined);
  if (!asked) throw new Error('no answer');
  return asked;
};

describe('the first answer', () => {
  test('stays as it was, however often the question is answered', () => {
    const asked = answeredSo(one(false), one(true), one(true, 4));
    expect(asked.first).toEqual(one(false));
    expect(asked.tries).toBe(3);
    expect(asked.right).toBe(start);
  });

  test('of a record that kept only the day is not made up', () => {
    const asked = afterTry({ tries: 1, right: '2026-10-01' }, one(true));
    expect(asked.first).toBeUndefined();
    expect(asked.right).toBe('2026-10-01');
    expect(asked.tries).toBe(2);
  });

  test('right at once brings nothing back', () => {
    expect(answeredSo(one(true)).back).toBeUndefined();
    expect(answeredSo(one(true), one(true, 9)).back).toBeUndefined();
  });
});

describe('a missed question', () => {
  test('comes back after 1, 3 and 7 days, and then stays away', () => {
    let asked = answeredSo(one(false));
    let day = 0;
    for (const [at, gap] of gaps.entries()) {
      expect(asked.back).toEqual({ remembered: at, due: later(day + gap) });
      expect(dueOn({ q: asked }, later(day + gap - 1))).toEqual([]);
      expect(dueOn({ q: asked }, later(day + gap))).toEqual(['q']);
      day += gap;
      asked = afterTry(asked, one(true, day));
    }
    expect(day).toBe(11);
    expect(asked.back).toBeUndefined();
    expect(dueOn({ q: asked }, later(400))).toEqual([]);
  });

  test('answered correctly at once in the lesson still comes back tomorrow', () => {
    expect(answeredSo(one(false), one(true), one(true)).back).toEqual({ remembered: 0, due: later(1) });
  });

  test('missed again begins again, at whatever step', () => {
    const asked = answeredSo(one(false), one(true, 1), one(true, 4), one(false, 11));
    expect(asked.back).toEqual({ remembered: 0, due: later(12) });
  });

  test('asked late is counted from the day it was asked', () => {
    expect(answeredSo(one(false), one(true, 20)).back).toEqual({ remembered: 1, due: later(23) });
  });

  test('whose day a clock wrote that was ahead is asked, not lost', () => {
    expect(dueOn({ q: answeredSo(one(false, 3000)) }, start)).toEqual(['q']);
  });

  test('waits in the order of its day', () => {
    const questions = {
      b: answeredSo(one(false, 2)),
      a: answeredSo(one(false, 1)),
      c: answeredSo(one(true)),
      d: answeredSo(one(false, 9)),
    };
    expect(dueOn(questions, later(4))).toEqual(['a', 'b']);
    expect(nextDue(questions)).toBe(later(2));
    expect(nextDue({})).toBeUndefined();
  });

  test('never stays away before it was remembered on three days after it was missed', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ right: fc.boolean(), wait: fc.integer({ min: 0, max: 12 }) }), {
          minLength: 1,
          maxLength: 14,
        }),
        (steps) => {
          let day = 0;
          const tries = steps.map(({ right, wait }) => {
            day += wait;
            return one(right, day);
          });
          const asked = answeredSo(...tries);
          const lastMiss = tries.findLastIndex(({ right }) => !right);
          const daysSince = new Set(tries.slice(lastMiss + 1).map((answer) => answer.day));
          daysSince.delete(tries[lastMiss]?.day ?? '');
          if (lastMiss < 0) expect(asked.back).toBeUndefined();
          else if (daysSince.size < gaps.length) expect(asked.back).toBeDefined();
          expect(asked.tries).toBe(steps.length);
          expect(asked.first).toEqual(tries[0]);
        },
      ),
    );
  });
});

const course: Course = {
  lessons: [
    { id: 'one', questions: ['a', 'b'] },
    { id: 'two', questions: ['c'] },
  ],
  cases: ['case'],
};
const check = (first: Record<string, boolean>): Check => ({ day: start, edition: '', ids: ['x', 'y'], first });
const everything = {
  questions: { a: answeredSo(one(true)), b: answeredSo(one(true, 2)), c: answeredSo(one(true, 1)) },
  cases: { case: { day: start, agreed: 3, of: 5, tries: 1 } },
  checks: [check({ x: true, y: false })],
};

describe('the record', () => {
  test('is complete when every lesson, every case and a mixed check were done, and nothing is left to remember', () => {
    const all = learnt(course, everything);
    expect(all.left).toEqual([]);
    expect(all.lessonsDone).toBe(2);
    expect(all.lessons[0]).toEqual({
      id: 'one',
      asked: 2,
      of: 2,
      rightFirst: 2,
      tries: 2,
      notRight: 0,
      done: later(2),
    });
  });

  test('says of a lesson how many answers are not correct yet: answered is not done', () => {
    const questions = { ...everything.questions, b: answeredSo(one(false), one(false)) };
    expect(learnt(course, { ...everything, questions }).lessons[0]).toMatchObject({ asked: 2, of: 2, notRight: 1 });
    expect(learnt(course, { ...everything, questions }).lessons[0]?.done).toBeUndefined();
  });

  test.each<[string, Partial<typeof everything>, string[]]>([
    [
      'a question that nobody answered',
      { questions: { a: answeredSo(one(true)), b: answeredSo(one(true)) } as never },
      ['1 lesson'],
    ],
    [
      'a question only answered wrongly',
      { questions: { ...everything.questions, c: answeredSo(one(false)) } },
      ['1 lesson', '1 missed question still to be remembered'],
    ],
    [
      'a miss that was put right, and is not remembered yet',
      { questions: { ...everything.questions, c: answeredSo(one(false), one(true)) } },
      ['1 missed question still to be remembered'],
    ],
    ['a case', { cases: {} as never }, ['1 case']],
    ['a check that was begun', { checks: [check({ x: true })] }, ['the mixed check']],
    ['no check', { checks: [] }, ['the mixed check']],
  ])('is not complete without %s', (_, missing, left) => {
    expect(learnt(course, { ...everything, ...missing }).left).toEqual(left);
  });

  test('of nothing done has everything left', () => {
    expect(learnt(course, { questions: {}, cases: {}, checks: [] }).left).toEqual([
      '2 lessons',
      '1 case',
      'the mixed check',
    ]);
  });

  test('says a lesson is done on the day of its last right answer, never without all of them', () => {
    expect(dayOfAll(['a', 'b'], { a: '2026-11-02', b: '2026-11-01' })).toBe('2026-11-02');
    expect(dayOfAll(['a', 'b'], { a: '2026-11-02' })).toBeUndefined();
    expect(dayOfAll([], {})).toBeUndefined();
  });

  test('counts a check by its first answers', () => {
    expect(isFinished(check({ x: true, y: false }))).toBe(true);
    expect(isFinished(check({ x: true }))).toBe(false);
    expect(isFinished({ ...check({}), ids: [] })).toBe(false);
    expect(rightIn(check({ x: true, y: false, z: true }))).toBe(1);
  });
});
