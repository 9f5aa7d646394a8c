import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { all, any, type Truth } from '../../../calculators/evaluate/logic.ts';

const truths: Truth[] = ['met', 'not-met', 'cannot-tell'];
const truth = fc.constantFrom(...truths);
const some = fc.array(truth, { maxLength: 6 });

const not = (one: Truth): Truth => (one === 'met' ? 'not-met' : one === 'not-met' ? 'met' : 'cannot-tell');

describe('three results', () => {
  test.each<[Truth, Truth, Truth, Truth]>([
    ['met', 'met', 'met', 'met'],
    ['met', 'not-met', 'not-met', 'met'],
    ['met', 'cannot-tell', 'cannot-tell', 'met'],
    ['not-met', 'not-met', 'not-met', 'not-met'],
    ['not-met', 'cannot-tell', 'not-met', 'cannot-tell'],
    ['cannot-tell', 'cannot-tell', 'cannot-tell', 'cannot-tell'],
  ])('%s and %s is %s; %s with an or', (a, b, both, either) => {
    expect(all([a, b])).toBe(both);
    expect(any([a, b])).toBe(either);
  });

  test('one part known false makes the whole false, whatever is unknown', () => {
    fc.assert(fc.property(some, (parts) => all([...parts, 'not-met']) === 'not-met'));
  });

  test('one part known true settles an or, whatever is unknown', () => {
    fc.assert(fc.property(some, (parts) => any([...parts, 'met']) === 'met'));
  });

  test('what is unknown alone is never false and never true', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), (count) => {
        const parts = Array<Truth>(count).fill('cannot-tell');
        return all(parts) === 'cannot-tell' && any(parts) === 'cannot-tell';
      }),
    );
  });

  test('the order of the parts changes nothing', () => {
    fc.assert(
      fc.property(
        some.chain((parts) => fc.tuple(fc.constant(parts), fc.shuffledSubarray(parts, { minLength: parts.length }))),
        ([parts, shuffled]) => all(parts) === all(shuffled) && any(parts) === any(shuffled),
      ),
    );
  });

  test('how the parts are bracketed changes nothing', () => {
    fc.assert(
      fc.property(truth, truth, truth, (a, b, c) => {
        expect(all([all([a, b]), c])).toBe(all([a, all([b, c])]));
        expect(any([any([a, b]), c])).toBe(any([a, any([b, c])]));
      }),
    );
  });

  test('nothing more to fulfil adds nothing: an empty and is met, an empty or is not', () => {
    expect(all([])).toBe('met');
    expect(any([])).toBe('not-met');
    fc.assert(
      fc.property(some, (parts) => all([...parts, 'met']) === all(parts) && any([...parts, 'not-met']) === any(parts)),
    );
  });

  test('a part said twice counts once', () => {
    fc.assert(
      fc.property(
        some,
        (parts) => all([...parts, ...parts]) === all(parts) && any([...parts, ...parts]) === any(parts),
      ),
    );
  });

  test('an and distributes over an or, and the other way round', () => {
    fc.assert(
      fc.property(truth, truth, truth, (a, b, c) => {
        expect(all([a, any([b, c])])).toBe(any([all([a, b]), all([a, c])]));
        expect(any([a, all([b, c])])).toBe(all([any([a, b]), any([a, c])]));
      }),
    );
  });

  test('not all is the same as any not', () => {
    fc.assert(
      fc.property(some, (parts) => not(all(parts)) === any(parts.map(not)) && not(any(parts)) === all(parts.map(not))),
    );
  });

  test('learning what was unknown never turns a known result around', () => {
    const learned = fc.array(fc.tuple(truth, fc.constantFrom<Truth>('met', 'not-met'), fc.boolean()), { maxLength: 6 });
    fc.assert(
      fc.property(learned, (parts) => {
        const before = parts.map(([one]) => one);
        const after = parts.map(([one, answer, asked]) => (one === 'cannot-tell' && asked ? answer : one));
        for (const combine of [all, any])
          if (combine(before) !== 'cannot-tell') expect(combine(after)).toBe(combine(before));
      }),
    );
  });
});
