/** How changes are said. Figures are worked out by hand beside each test. */
import { describe, expect, test } from 'vitest';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { type PastVisit, since, type Trend } from '../../../calculators/visit/since.ts';
import {
  ahead,
  aheadWords,
  chanceWords,
  changeSentence,
  changeWords,
  eachOnce,
  leadWords,
  markSources,
  rateLines,
  rateWords,
  type SinceContext,
  sinceLines,
  undatedWords,
  widthWords,
} from '../../../calculators/visit/since-words.ts';
import { criteria, measures, numberMeasure, reading, row } from '../evaluate/setup.ts';

const percent = numberMeasure('fvc-percent');
const fifty = row('aan-als-fvc-lt-50');
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

  test('by one is one point', () => {
    expect(changeWords(trendOf(visits(['2026-11-01', 60], ['2026-11-02', 59])), percent)).toMatch(/: 1 point lower$/);
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
    expect(chanceWords(falling)).toBe('more than two tests usually differ by chance');
    expect(chanceWords(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 64])))).toBe(
      'two tests can differ by this much by chance, so it neither shows a change nor rules one out',
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
    // 11 % of the mean of 71 over the square root of 2, over the square root of 2 x 91^2 days, in months: 1.3061 either way
    '\u22123.01 points a month (95 % interval \u22124.32 to \u22121.7 points), from 3 readings',
  );
  expect(rateWords(trendOf(visits(['2026-11-01', 71], ['2026-11-23', 62])), percent)).toBeUndefined();
});

describe('a threshold ahead', () => {
  const same = { ...fifty, id: 'same', source: 'another' };
  const nearer = { ...fifty, id: 'nearer', value: 55 };

  test('has its earliest day, the day of the line and the last', () => {
    // (62 - 50) / 9 x 91 = 121.3 days after 23 November 2026. By the edges, m times 91 days after August:
    // 71 - 9 m -+ 5.5225 x sqrt(4 / 3 + m^2 / 2) = 50 at m = 1.40004 and m = 4.34892, that is 36.4 and 304.8 days
    const edge = (m: number, sign: 1 | -1) => 71 - 9 * m + sign * 5.5225 * Math.sqrt(4 / 3 + m ** 2 / 2);
    expect([edge(1.40004, -1), edge(4.34892, 1)]).toEqual([expect.closeTo(50, 2), expect.closeTo(50, 2)]);
    const [one] = ahead(falling, [fifty], measures);
    expect(one && plain(aheadWords(one))).toBe(
      'Could be below 50 % predicted from 2026-12-29 (on the line itself 2027-03-24, at the latest 2027-09-24)',
    );
    expect(one).not.toHaveProperty('begin');
  });

  test('that several sources set alike is told once, with all of them, and the nearest threshold first', () => {
    const trend = trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]), [fifty, same, nearer]);
    const found = ahead(trend, [fifty, same, nearer], measures);
    // (62 - 55) / 9 x 91 = 70.8 days by the line; the edge of its interval is there already
    expect(found.map(({ earliest, line, marks }) => [earliest, line, marks.map(({ id }) => id)])).toEqual([
      ['2026-11-23', '2027-02-02', ['nearer']],
      ['2026-12-29', '2027-03-24', ['aan-als-fvc-lt-50', 'same']],
    ]);
  });

  test('with a lead time has the day to count back to, and says when that day is gone', () => {
    const [one] = ahead(falling, [fifty], measures, 4);
    if (!one) throw new Error('nothing ahead');
    // 28 days before 29 December
    expect(one.begin).toBe('2026-12-01');
    expect(leadWords(one, 4, '2026-11-23')).toBe('4 weeks before that is 2026-12-01');
    expect(leadWords(one, 4, '2026-12-01')).toBe('4 weeks before that is 2026-12-01');
    expect(leadWords(one, 4, '2026-12-02')).toMatch(/^4 weeks before that was 2026-12-01/);
    expect(leadWords({ ...one, begin: '2027-03-17' }, 1, '2026-11-23')).toBe('1 week before that is 2027-03-17');
  });
});

test('a payer\u2019s threshold ahead is told as a payer\u2019s', () => {
  const marks = [fifty, row('us-rad-fvc-lt-50')];
  const [one] = ahead(
    trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]), marks),
    marks,
    measures,
  );
  expect(one && markSources(one, (id) => id)).toBe(`aan-2009; ${row('us-rad-fvc-lt-50').source} (payer rule)`);
});

const context = (marks = criteria, more: Partial<SinceContext> = {}): SinceContext => ({
  criteria: marks,
  measures,
  sourceName: (id) => `source ${id}`,
  today: '2026-11-23',
  ...more,
});

test('the note has one line for a change beyond chance, with the nearest day and its source; rates are told apart', () => {
  expect(sinceLines([falling], context(criteria, { weeks: 4 })).map(plain)).toEqual([
    'FVC 62 % predicted, was 71 % on 2026-08-24: 9 points lower, more than two tests usually differ by chance; could be below 50 % predicted from 2026-12-29 [source aan-2009]; 4 weeks before that is 2026-12-01',
  ]);
  expect(rateLines([falling], context(criteria, { weeks: 4 })).map(plain)).toEqual([
    expect.stringMatching(
      /^FVC: \u22123\.01 points a month \(95 % interval \u22124\.32 to \u22121\.7 points\), from 3 readings\. Could be below 50 % predicted from 2026-12-29 .* \[source aan-2009\]; 4 weeks before that is 2026-12-01$/,
    ),
  ]);
});

test('dates are written as the reader writes them, and the day of the visit before is not repeated', () => {
  const say = (iso: string) => `day ${iso}`;
  const [line = ''] = sinceLines([falling], context(criteria, { say, before: '2026-08-24' })).map(plain);
  expect(line).toMatch(/^FVC 62 % predicted, was 71 %: 9 points lower, .* from day 2026-12-29 /);
  expect(plain(changeSentence(falling, percent, say))).toMatch(/^FVC 62 % .* on day 2026-08-24 \(91 days\)/);
});

test('no date stands in a note of fewer than three visits, and no payer rule is a reason in it', () => {
  const two = trendOf(visits(['2026-08-24', 71], ['2026-11-23', 62]));
  expect(sinceLines([two], context()).join()).not.toMatch(/could be/i);
  const payer = [row('us-rad-fvc-lt-50')];
  const three = trendOf(visits(['2026-05-25', 80], ['2026-08-24', 71], ['2026-11-23', 62]), payer);
  expect(ahead(three, payer, measures)).toHaveLength(1);
  expect(sinceLines([three], context(payer)).join()).not.toMatch(/could be/i);
});

test('what may be chance, and what nobody knows the chance of, stands together and apart from a change', () => {
  const past: PastVisit[] = [71, 69].map((percentOf, place) => ({
    date: place === 0 ? '2026-08-24' : '2026-11-23',
    visit: {
      readings: {
        'fvc-percent': reading(percentOf, '%'),
        snip: reading(55 - 12 * place, 'cm[H2O]'),
        'peak-cough-flow': reading(280 - 40 * place, 'L/min'),
        mep: reading(70, 'cm[H2O]'),
      },
      signs: {},
    },
  }));
  expect(sinceLines(since(past, measures), context([], { before: '2026-08-24' })).map(plain)).toEqual([
    'Changed; how far two such tests differ by chance is not known: peak cough flow 240 L/min, was 280 L/min: 40 L/min lower; SNIP 43 cmH2O, was 55 cmH2O: 12 cmH2O lower',
    'Changed by no more than two tests can differ by chance: FVC 69 % predicted, was 71 %: 2 points lower',
    'The same reading as then: MEP 70 cmH2O',
  ]);
});

test('a vital capacity and what is worked out from it are one change, told where criteria look ahead', () => {
  const past: PastVisit[] = [3.2, 2.8, 2.4].map((litres, place) => ({
    date: ['2026-05-25', '2026-08-24', '2026-11-23'][place] as string,
    set: 'gli-2022-global',
    visit: derive(
      {
        disease: 'als',
        ageYears: 60,
        sex: 'male',
        heightCm: 176,
        readings: { 'vc-litres': reading(litres, 'L', { posture: 'upright' }), weight: reading(70, 'kg') },
        signs: {},
      },
      { set: 'gli-2022-global' },
    ),
  }));
  const all = since(past, measures, [fifty]).map(({ measure }) => measure);
  expect(all).toEqual(expect.arrayContaining(['vc-litres', 'fvc-percent']));
  expect(eachOnce(since(past, measures, [fifty])).map(({ measure }) => measure)).toEqual(['weight', 'fvc-percent']);
  expect(eachOnce(since(past, measures)).map(({ measure }) => measure)).toEqual(['weight', 'vc-litres']);
});

describe('no date', () => {
  const said = (trend: Trend, marks = [fifty]) => undatedWords(trend, marks, measures).map(plain);
  const level = visits(['2026-05-25', 62], ['2026-08-24', 61], ['2026-11-23', 60]);

  test('is said with its reason, in plain words', () => {
    expect(said(trendOf(level))).toEqual([
      'No date: the fall could be chance: the 95 % interval of the change contains zero. A fall is not ruled out: measure again',
    ]);
    expect(said(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 62])))).toEqual([
      'No date: there are only two readings. The rate is uncertain, and a date needs a third reading',
    ]);
  });

  test('names the threshold where another one has a date', () => {
    // 9 points a year from 62: 12 points are 16 months, 58 are more than 6 years
    const far = { ...fifty, id: 'far', value: 4 };
    const slow = visits(['2024-11-23', 80], ['2025-11-23', 71], ['2026-11-23', 62]);
    const marks = [fifty, far];
    expect(said(trendOf(slow, marks), marks)).toEqual([
      'No date for below 4 % predicted: on this line the threshold is more than 24 months away. A line that far ahead is a guess',
    ]);
  });

  test('of a saturation says what to go by instead, once for all thresholds', () => {
    const past: PastVisit[] = ['2026-05-25', '2026-08-24', '2026-11-23'].map((date, place) => ({
      date,
      visit: { disease: 'als', ageYears: 60, readings: { spo2: reading(98 - place, '%', { gas: 'air' }) }, signs: {} },
    }));
    const marks = criteria.filter(({ measure }) => measure === 'spo2');
    const trend = since(past, measures, marks).find(({ measure }) => measure === 'spo2');
    if (!trend) throw new Error('no trend');
    expect(said(trend, marks)).toEqual([
      'No date: a saturation is never projected, because it stays high while breathing weakens and then falls late and fast. Use carbon dioxide, vital capacity, SNIP and symptoms instead',
    ]);
    expect(ahead(trend, marks, measures)).toEqual([]);
  });

  test('stands among the rates from three readings on, and not for two', () => {
    const lines = (trend: Trend) => rateLines([trend], context([fifty])).map(plain);
    expect(lines(trendOf(level)).at(-1)).toMatch(/\. No date: the fall could be chance/);
    expect(lines(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 62]))).join()).not.toContain('No date');
  });
});

test('what the width of the interval rests on is said where it is not the readings', () => {
  // 11 % of 71
  expect(widthWords(falling, percent)).toBe(
    'The interval reflects how much the test varies when repeated: two tests can differ by 7.81 points by chance',
  );
  expect(
    widthWords(trendOf(visits(['2026-05-25', 80], ['2026-08-24', 60], ['2026-11-23', 62])), percent),
  ).toBeUndefined();
  expect(widthWords(trendOf(visits(['2026-08-24', 71], ['2026-11-23', 62])), percent)).toBeUndefined();
  const sniffs: PastVisit[] = ['2026-05-25', '2026-08-24', '2026-11-23'].map((date, place) => ({
    date,
    visit: { readings: { snip: reading(60 - 5 * place, 'cm[H2O]') }, signs: {} },
  }));
  const sniff = since(sniffs, measures).find(({ measure }) => measure === 'snip');
  expect(plain(sniff && widthWords(sniff, numberMeasure('snip')))).toBe(
    'The interval reflects how much the test varies when repeated: two tests can differ by 21.3 cmH2O by chance (18 people after a stroke, sessions within 24 hours: Lewko 2021 (Physiother Res Int 26:e1892, abstract): limits of agreement)',
  );
});

test('a rate that can have no interval says why', () => {
  const flows: PastVisit[] = ['2026-05-25', '2026-08-24', '2026-11-23'].map((date, place) => ({
    date,
    visit: { readings: { 'peak-cough-flow': reading(360 - 30 * place, 'L/min') }, signs: {} },
  }));
  const flow = since(flows, measures).find(({ measure }) => measure === 'peak-cough-flow');
  expect(plain(flow && rateWords(flow, numberMeasure('peak-cough-flow')))).toMatch(
    / a month \(no interval: how far two tests differ by chance is not published\), from 3 readings$/,
  );
});
