/** How changes are said. Figures are worked out by hand beside each test. */
import { describe, expect, test } from 'vitest';
import { type PastVisit, since, type Trend } from '../../../calculators/criteria/since.ts';
import {
  ahead,
  aheadWords,
  chanceWords,
  changeWords,
  leadWords,
  markSources,
  rateWords,
  sinceLines,
} from '../../../calculators/criteria/since-words.ts';
import { criteria, mark, measures, numberMeasure, reading } from './setup.ts';

const percent = numberMeasure('fvc-percent');
const fifty = mark('aan-als-fvc-lt-50');
const plain = (text: string | undefined) => (text ?? '').replaceAll('\u00a0', ' ');

const visits = (...values: [date: string, value: number][]): PastVisit[] =>
  values.map(([date, value]) => ({
    date,
    visit: { disease: 'als', ageYears: 60, readings: { 'fvc-percent': reading(value, '%') }, signs: {} },
  }));
const trendOf = (past: PastVisit[], marks = [fifty]): Trend => {
  const [found] = since(past, measures, marks);
  if (!found) throw new Error('no trend');
  return found;
};
/** 80, 71, 62 every 91 days: 9 points in 91 days. */
const falling = trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]));

describe('a change', () => {
  test('is told with both readings, the days between and which way', () => {
    expect(plain(changeWords(falling, percent))).toBe(
      '62 % predicted after 71 % predicted on 2026-08-24 (91 days): 9 points lower',
    );
  });

  test('upwards is higher, and none is no change', () => {
    expect(changeWords(trendOf(visits(['2026-11-01', 60], ['2026-11-02', 64])), percent)).toMatch(
      /\(1 day\): 4 points higher$/,
    );
    expect(changeWords(trendOf(visits(['2026-11-01', 60], ['2026-11-03', 60])), percent)).toMatch(
      /\(2 days\): no change$/,
    );
  });

  test('of litres is told in litres', () => {
    const litres = numberMeasure('vc-litres');
    const past: PastVisit[] = [
      ['2026-08-01', 2.4],
      ['2026-11-01', 2.1],
    ].map(([date, value]) => ({
      date: String(date),
      visit: { readings: { 'vc-litres': reading(Number(value), 'L', { posture: 'upright' }) }, signs: {} },
    }));
    const trend = since(past, measures).find(({ measure }) => measure === 'vc-litres');
    expect(plain(trend && changeWords(trend, litres))).toMatch(/: 0\.3 L lower$/);
  });

  test('is beyond chance, within it, or not known', () => {
    // 11 per cent of 71 are 7.8
    expect(chanceWords(falling)).toBe('more than chance usually makes between two tests');
    expect(chanceWords(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 64])))).toBe(
      'chance alone can make as much between two tests, so it neither shows a change nor rules one out',
    );
    const sniff = since(
      ['2026-08-01', '2026-11-01'].map((date) => ({
        date,
        visit: { readings: { snip: reading(40, 'cm[H2O]') }, signs: {} },
      })),
      measures,
    )[0];
    expect(sniff && chanceWords(sniff)).toBe('how far two tests differ by chance is not known for this measure');
  });
});

test('a rate from two readings has no interval, from three it has one, and less than a month has none', () => {
  // 9 / 91 x 30.4375 = 3.0103
  expect(rateWords(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 62])), percent)).toBe(
    '\u22123.01 points a month, from 2 readings',
  );
  expect(rateWords(falling, percent)).toBe(
    '\u22123.01 points a month (95 % interval \u22123.01 to \u22123.01 points), from 3 readings',
  );
  expect(rateWords(trendOf(visits(['2026-11-01', 71], ['2026-11-23', 62])), percent)).toBeUndefined();
});

describe('a mark ahead', () => {
  const same = { ...fifty, id: 'same', source: 'another' };
  const nearer = { ...fifty, id: 'nearer', value: 55 };

  test('has its earliest day, the day of the line and the last', () => {
    // (62 - 50) / 9 x 91 = 121.3 days after 23 November 2026
    const [one] = ahead(falling, [fifty], measures);
    expect(one && plain(aheadWords(one))).toMatch(
      /^Could be below 50 % predicted from 2027-03-24 \(on the line itself 2027-03-24, at the latest 2027-03-2[45]\)$/,
    );
    expect(one).not.toHaveProperty('begin');
  });

  test('that several sources set alike is told once, with all of them, and the nearest mark first', () => {
    const trend = trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]), [fifty, same, nearer]);
    const found = ahead(trend, [fifty, same, nearer], measures);
    // (62 - 55) / 9 x 91 = 70.8 days
    expect(found.map(({ earliest, marks }) => [earliest, marks.map(({ id }) => id)])).toEqual([
      ['2027-02-01', ['nearer']],
      ['2027-03-24', ['aan-als-fvc-lt-50', 'same']],
    ]);
  });

  test('with a lead time has the day to count back to, and says when that day is gone', () => {
    const [one] = ahead(falling, [fifty], measures, 6);
    if (!one) throw new Error('nothing ahead');
    // 42 days before 24 March
    expect(one.begin).toBe('2027-02-10');
    expect(leadWords(one, 6, '2026-11-23')).toBe('6 weeks before that is 2027-02-10');
    expect(leadWords(one, 6, '2027-02-10')).toBe('6 weeks before that is 2027-02-10');
    expect(leadWords(one, 6, '2027-02-11')).toMatch(/^6 weeks before that was 2027-02-10/);
    expect(leadWords({ ...one, begin: '2027-03-17' }, 1, '2026-11-23')).toBe('1 week before that is 2027-03-17');
  });
});

test('a payer\u2019s mark ahead is told as a payer\u2019s', () => {
  const marks = [fifty, mark('us-rad-fvc-lt-50')];
  const [one] = ahead(
    trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]), marks),
    marks,
    measures,
  );
  expect(one && markSources(one, (id) => id)).toBe(`aan-2009; ${mark('us-rad-fvc-lt-50').source} (payer rule)`);
});

test('the note has one line for the change and one for each mark ahead, with its source', () => {
  const lines = sinceLines([falling], criteria, measures, (id) => `source ${id}`, '2026-11-23', 6).map(plain);
  expect(lines).toEqual([
    'FVC or VC, upright: 62 % predicted after 71 % predicted on 2026-08-24 (91 days): 9 points lower; more than chance usually makes between two tests; \u22123.01 points a month (95 % interval \u22123.01 to \u22123.01 points), from 3 readings',
    expect.stringMatching(
      /^Could be below 50 % predicted from 2027-03-24 .* \[source aan-2009\]; 6 weeks before that is 2027-02-10$/,
    ),
  ]);
});
