/**
 * How fast a reading is falling, and when the fall could reach a threshold.
 *
 *   slope a month  = least-squares slope x 30.4375 days
 *   relative slope = 100 x slope / value of the line at the first reading
 *   earliest       = day on which the lower edge of the 95 per cent prediction interval is at the threshold
 *   arrange by     = earliest - usual wait
 *
 * Support that takes weeks to arrange has to be asked for before the threshold, not at it. Two readings give
 * a slope and no date. Three or more give a line, a scatter, and a date to plan by: the EARLIEST day the
 * readings allow, not the day the line itself would choose. There is no date where the interval of the
 * slope contains zero, and none where the line itself needs more than two years.
 *
 * The interval is never narrower than the published repeatability of the test (`repeatability.ts`). Where
 * none is published, as for a cough flow, there is neither interval nor date.
 *
 * Decline is seldom a straight line. In the ALS series behind the warning here most people followed to
 * death had a bend, and fell faster after it.
 *
 * @param readings  { time: days since any fixed day, value: in the unit of the test }[], two or more dates,
 *                  the best of each session
 * @returns slopes a month, absolute and relative, kept apart by unit; days counted from the LAST READING
 * @refuses a change of posture or method; readings less than a month apart; two readings on one day;
 *          numbers that are not of the test named ("Is 3.1 in litres?")
 */

import { type Citation, defineCalculator, formula, type SeriesRow, type Step } from '../calculator.ts';
import { type Problem, type ResultTable, refuse } from '../outcome.ts';
import { daysInMonth, show, showNumber, type UnitCode } from '../quantity.ts';
import { chanceIn, type DeclineTest, lineOf } from './decline-line.ts';
import {
  datesFor,
  edgeReaches,
  halfWidth,
  halfWidthOn,
  horizonMonths,
  type Line,
  leastSquares,
  lineReaches,
  type NoDate,
  type Reaches,
  reachOf,
  scatterAbout,
  slopeHalfWidth,
  slopeHalfWidthOf,
  valueOn,
} from './line.ts';

interface Test {
  name: string;
  /** plural, as used inside a sentence */
  plural: string;
  unit: UnitCode;
  /** name of the result that carries its slope; one each, so that points, litres and pressures never mix */
  slope: 'slopePoints' | 'slopeLitres' | 'slopePressure' | 'slopeFlow';
  decimals: number;
  /** outside these a number is not of this test */
  limits: readonly [number, number];
  /** what a number outside the limits probably was */
  below: string;
  above: string;
  /** below this a number is possible, and more often a slip */
  oddBelow?: number;
  /** typed as -35 by one clinic and 35 by the next */
  magnitude?: true;
}

/** Sniff and mouth pressures are read alike; each has its own repeatability. */
const pressure = {
  unit: 'cm[H2O]',
  slope: 'slopePressure',
  decimals: 1,
  limits: [1, 300],
  below: 'in kPa',
  above: 'in another unit',
  magnitude: true,
} as const;

const tests = {
  'vc-percent': {
    name: 'Vital capacity in % of predicted',
    plural: 'vital capacities',
    unit: '%',
    slope: 'slopePoints',
    decimals: 1,
    limits: [4, 200],
    below: 'in litres',
    above: 'in another unit',
    oddBelow: 10,
  },
  'vc-litres': {
    name: 'Vital capacity in litres',
    plural: 'vital capacities',
    unit: 'L',
    slope: 'slopeLitres',
    decimals: 2,
    limits: [0.1, 9.5],
    below: 'typed correctly',
    above: 'in % of predicted',
  },
  snip: { name: 'Sniff pressure in cmH2O', plural: 'sniff pressures', ...pressure },
  mip: { name: 'Inspiratory mouth pressure in cmH2O', plural: 'inspiratory mouth pressures', ...pressure },
  mep: { name: 'Expiratory mouth pressure in cmH2O', plural: 'expiratory mouth pressures', ...pressure },
  'cough-flow': {
    name: 'Peak cough flow in L/min',
    plural: 'peak cough flows',
    unit: 'L/min',
    slope: 'slopeFlow',
    decimals: 0,
    limits: [20, 1200],
    below: 'in L/s',
    above: 'in another unit',
  },
} as const satisfies Record<DeclineTest, Test>;

const perMonth = formula({
  result: 'slopePerMonth',
  unit: 'month^-1',
  text: `${daysInMonth} * slope`,
  withUnits: 'slope',
  symbols: { slope: { means: 'change a day', unit: 'day^-1', range: [-1, 1] } },
  run: ({ slope }) => daysInMonth * slope,
});

const relativePerMonth = formula({
  result: 'relativeSlope',
  unit: 'month^-1',
  text: '100 * slopePerMonth / atFirst',
  symbols: {
    slopePerMonth: { means: 'change a month', unit: 'month^-1', range: [-20, 20] },
    atFirst: { means: 'value of the line at the first reading', unit: '', range: [1, 150] },
  },
  run: ({ slopePerMonth, atFirst }) => (100 * slopePerMonth) / atFirst,
});

const inThreeMonths = formula({
  result: 'fallInThreeMonths',
  unit: '',
  text: '-3 * slopePerMonth',
  symbols: { slopePerMonth: { means: 'change a month', unit: '', range: [-20, 20] } },
  run: ({ slopePerMonth }) => -3 * slopePerMonth,
});

const ahead = formula({
  result: 'daysAhead',
  unit: 'day',
  text: 'day - lastDay',
  symbols: {
    day: { means: 'day on which the threshold is reached', unit: 'day', range: [0, 3000] },
    lastDay: { means: 'day of the last reading', unit: 'day', range: [0, 1500] },
  },
  run: ({ day, lastDay }) => day - lastDay,
});

const arrangeBefore = formula({
  result: 'arrangeBy',
  unit: 'day',
  text: 'earliest - wait',
  symbols: {
    earliest: {
      means: 'days from the last reading to the earliest day at the threshold',
      unit: 'day',
      range: [0, 800],
    },
    wait: { means: 'usual wait', unit: 'day', range: [0, 300] },
  },
  run: ({ earliest, wait }) => earliest - wait,
});

const citations: Citation[] = [
  {
    cite: 'Serial vital capacity in ALS. Eur J Neurol 1996;3:40-43',
    locator:
      'abstract: in 34 people the fall was not linear; it became faster in 81 % of those who began with a normal value and were followed to death',
    standing: 'checked',
  },
  {
    cite: 'Fitting JW, et al. Ann Neurol 1999;46:887-893',
    locator:
      'abstract: in 16 people seen every month, FVC fell by 4.1 points a month, and the decline was most often linear',
    standing: 'checked',
  },
  {
    cite: 'Vital capacity in ALS. Rigakuryoho 2005;32(2)',
    locator: 'abstract: 14 people had four patterns of decline, from 1.95 to 18.32 points a month',
    standing: 'checked',
    note: 'The abstract prints two of the monthly falls without a minus sign.',
  },
  {
    cite: 'Andrews JA, Meng L, Kulke SF, et al. JAMA Neurol 2018;75:58-64',
    locator:
      'table 2: slow VC fell by 2.7 percentage points of predicted a month (95 % interval 2.5 to 3.0; 2337 observations), and by 3.6 points a month (2.9 to 4.3) in people over 65 years',
    standing: 'checked',
    note: 'The data come from the placebo group of one trial, EMPOWER: 456 people with an upright slow VC of at least 65 % of predicted on entry. The 893 people in the abstract come from three data sets.',
  },
  {
    cite: 'Duchenne, DELOS trial, placebo group',
    locator: 'abstract: FVC fell by 8.7 points a year (SD 1.1) at ages 10 to 18, off glucocorticoids',
    standing: 'checked',
  },
  {
    cite: 'Duchenne, review of natural history',
    locator: 'yearly falls of 5 points (ages 5 to 24) to 10.7 points (ages 12 to 15)',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Least squares and prediction interval',
    locator: 'standard statistics; t values tested against the NIST/SEMATECH e-Handbook table',
    standing: 'checked',
  },
  {
    cite: 'Pellegrino R, et al. Eur Respir J 2005;26:948-968',
    locator:
      'table 12: a difference in FVC of 11 % from week to week in normal subjects; in litres, at least 0.15 L (Graham 2019, between two efforts in one session)',
    standing: 'checked-in-summary',
    note: 'We use these differences as the minimum width of a prediction interval for vital capacity. We assume that in 95 of 100 pairs of tests the two results differ by less than the difference used in this calculation.',
  },
  {
    cite: 'Aguilar-Zafra S, et al. J Neurol Phys Ther 2023;47:94',
    locator:
      'abstract: in 61 people with multiple sclerosis, tested twice 7 to 10 days apart, the minimal detectable change was 15.42 cmH2O for MIP and 17.84 cmH2O for MEP',
    standing: 'checked',
  },
  {
    cite: 'Lewko A, et al. Physiother Res Int 2021;26:e1892',
    locator:
      'abstract: in 18 people after a stroke, the limits of agreement of SNIP between two sessions within 24 hours were \u221227.32 to 15.20 cmH2O',
    standing: 'checked',
    note: 'Half the distance between these limits of agreement, 21.26 cmH2O, is the minimum width that we use for a prediction interval of SNIP. We found no figure for the difference in SNIP between two sessions in people with neuromuscular disease.',
  },
  {
    cite: 'Readings must be at least 1 month apart',
    locator: 'which is this handbook\u2019s rule for any fall over time',
    standing: 'common-practice',
  },
];

export default defineCalculator({
  id: 'decline-rate',
  title: 'How fast is it falling?',
  purpose:
    'Calculates a monthly fall from dated readings, and the earliest day on which the reading could reach a threshold.',
  group: 'decline',
  keywords: ['decline', 'slope', 'trend', 'FVC', 'VC', 'SNIP', 'MIP', 'peak cough flow', 'rate of fall', 'lead time'],
  fields: {
    test: {
      kind: 'choice',
      label: 'What was measured',
      options: [
        { value: 'vc-percent', label: 'Vital capacity, % of predicted', unit: '%' },
        { value: 'vc-litres', label: 'Vital capacity, litres', unit: 'L' },
        { value: 'snip', label: 'Sniff pressure (SNIP), cmH2O', unit: 'cm[H2O]' },
        { value: 'mip', label: 'Inspiratory mouth pressure (MIP), cmH2O', unit: 'cm[H2O]' },
        { value: 'mep', label: 'Expiratory mouth pressure (MEP), cmH2O', unit: 'cm[H2O]' },
        { value: 'cough-flow', label: 'Peak cough flow, L/min', unit: 'L/min' },
      ],
    },
    sameMethod: {
      kind: 'choice',
      label: 'Same posture and method throughout',
      options: [
        { value: 'yes', label: 'Yes' },
        { value: 'no', label: 'No' },
        { value: 'not-known', label: 'Not known' },
      ],
      help: 'The method includes the posture, mask or mouthpiece, device, reference equation and, for a sniff, the nostril.',
    },
    readings: {
      kind: 'series',
      label: 'Readings',
      row: 'Reading',
      columns: [
        {
          name: 'time',
          label: 'Time since the first reading',
          unit: 'd',
          accepts: ['wk', 'mo{span}'],
          plausible: [0, 2000],
          hard: [0, 7500],
        },
        { name: 'value', label: 'Reading', unit: '{reading}', plausible: [-300, 1200], hard: [-300, 1200] },
      ],
      min: 2,
      max: 40,
      help: 'Enter the best reading of each session, one row for each date. The first reading is at time 0. Two readings give only a rate of fall. An estimated date needs three or more readings.',
    },
    threshold: {
      kind: 'number',
      label: 'Threshold to plan for',
      unit: '{reading}',
      plausible: [-300, 1200],
      hard: [-300, 1200],
      optional: true,
      help: 'Enter the published or local threshold to plan for, in the unit of the readings.',
    },
    wait: {
      kind: 'number',
      label: 'Usual wait for what has to be arranged',
      unit: 'wk',
      accepts: ['d', 'mo{span}'],
      plausible: [1, 40],
      hard: [0, 104],
      optional: true,
      help: 'Add up how long referral, tests, delivery and training really take where you work.',
    },
  },
  formulas: {
    leastSquares,
    perMonth,
    relativePerMonth,
    inThreeMonths,
    scatterAbout,
    reachOf,
    slopeHalfWidth,
    halfWidth,
    lineReaches,
    edgeReaches,
    ahead,
    arrangeBefore,
  },
  results: {
    slopePoints: {
      label: 'Change, percentage points of predicted',
      unit: '{points}/mo',
      decimals: 1,
      plausible: [-15, 10],
      main: true,
      help: 'These are percentage points of predicted: a fall from 80 to 77 is 3 points.',
    },
    slopeLitres: { label: 'Change in litres', unit: 'L/mo', decimals: 2, plausible: [-0.5, 0.4], main: true },
    slopePressure: { label: 'Change in pressure', unit: 'cm[H2O]/mo', decimals: 1, plausible: [-20, 15], main: true },
    slopeFlow: { label: 'Change in cough flow', unit: 'L/min/mo', decimals: 0, plausible: [-100, 80], main: true },
    relative: {
      label: 'The same change as a share of the first value',
      unit: '%/mo',
      decimals: 1,
      plausible: [-40, 40],
      help: 'A share of the first value differs from percentage points: a fall of 3 points from 80 is 3.75 %.',
    },
    fallInThreeMonths: { label: 'Fall in 3 months', unit: 'cm[H2O]/(3.mo)', decimals: 1, plausible: [-60, 60] },
    earliest: {
      label: 'Threshold could be reached, earliest, after the last reading',
      unit: 'd',
      decimals: 0,
      plausible: [-3650, 3650],
      main: true,
    },
    arrangeBy: {
      label: 'Arrange by, after the last reading',
      unit: 'd',
      decimals: 0,
      plausible: [-3650, 3650],
      main: true,
    },
    crossing: {
      label: 'The line itself is at the threshold, after the last reading',
      unit: 'd',
      decimals: 0,
      plausible: [-3650, 3650],
    },
  },
  holds: {
    population: 'one test in one person, done the same way each time',
    notFor:
      'a change of posture or method; acute illness; myasthenia and Guillain-Barr\u00e9 syndrome; litres in a growing child',
  },
  cautions: [
    'Decline is often not a straight line: after a slow period, readings can fall faster. Measure again before the earliest day on which the threshold could be reached, and do not wait for that day if symptoms come first.',
    'Days are counted from the last reading, not from today.',
    'An infection, a tired day or a leaking mask can lower the readings; coaching and practice can hide a real fall. One unusual reading changes the calculated rate of fall.',
    'A date for planning is not a decision. If the calculation gives no date, this does not mean that the person is safe.',
  ],
  citations,
  compute: ({ test: chosen, sameMethod, readings, threshold: typedThreshold, wait }, step) => {
    if (sameMethod === 'no')
      return refuse(
        'sameMethod',
        'A change of posture or method can look like a fall or hide one. Enter only readings taken the same way',
      );
    const test: Test = tests[chosen];
    const size = (value: number) => (test.magnitude ? Math.abs(value) : value);
    const values = readings.map(({ row, time, value }) => ({ row, day: time, value: size(value) }));
    const threshold = typedThreshold === undefined ? undefined : size(typedThreshold);
    const problems = [...misread(test, values, threshold), ...sameDay(readings)];
    if (problems.length > 0) return { ok: false, problems };

    const line = lineOf(chosen, values, step);
    const span = line ? line.lastDay - line.firstDay : 0;
    if (!line || span < daysInMonth)
      return refuse(
        'readings',
        `The readings span ${showNumber(span, 0)} days. A slope needs at least 1 month between the first and the last`,
      );
    const slopePerMonth = step(perMonth, { slope: line.slope });
    const half = slopeHalfWidthOf(line, step);
    const error = half === undefined ? undefined : daysInMonth * half;
    const atFirst = valueOn(line, line.firstDay);
    const last = values.reduce((latest, reading) => (reading.day > latest.day ? reading : latest)).value;
    const plan = planBy(line, last, threshold, sameMethod === 'yes', chosen, step);
    const timing = plan.days ? timesAfterLast(line, plan.days, wait, step) : undefined;
    return {
      results: {
        [test.slope]: {
          value: slopePerMonth,
          ...(error === undefined ? {} : { low: slopePerMonth - error, high: slopePerMonth + error }),
        },
        ...(atFirst > 0 ? { relative: { value: step(relativePerMonth, { slopePerMonth, atFirst }) } } : {}),
        ...(test.magnitude ? { fallInThreeMonths: { value: step(inThreeMonths, { slopePerMonth }) } } : {}),
        ...timing?.results,
      },
      cautions: [...(timing?.cautions ?? []), ...plan.cautions, ...width(line, chosen), ...odd(test, values)],
      tables: [
        ...(line.reach === undefined ? [] : [nextReadings(line, test)]),
        ...(chosen === 'vc-percent' ? [published] : []),
      ],
    };
  },
});

interface Plan {
  /** on the scale of the readings; absent when no date can be given, and then the cautions say why */
  days?: { earliest: number; line?: number };
  cautions: string[];
}

/** What makes the slope weak, however the dates come out. */
function weaknesses({ count }: Line, sameMethod: boolean): string[] {
  return [
    ...(sameMethod
      ? []
      : ['It is not known whether posture and method stayed the same. The slope is uncertain, and no date is given.']),
    ...(count === 2
      ? ['There are only two readings. The slope is uncertain, and no date is given. A date needs a third reading.']
      : []),
    ...(count > 2 && count < 6
      ? [`${count} readings are few. The next reading can change the line and its interval a good deal.`]
      : []),
  ];
}

/**
 * Whether the readings allow a date to plan by, and the cautions to print beside it or in its place.
 *
 * @param last       the last reading, in the test's unit
 * @param threshold  the value to plan for, in the test's unit; undefined where none was typed
 */
function planBy(
  line: Line,
  last: number,
  threshold: number | undefined,
  sameMethod: boolean,
  chosen: DeclineTest,
  step: Step,
): Plan {
  const test: Test = tests[chosen];
  const weak = weaknesses(line, sameMethod);
  if (threshold === undefined) return { cautions: weak };
  const shown = show(threshold, test.unit, test.decimals);
  if (last <= threshold)
    return { cautions: [`The last reading is already at or below ${shown}: there is nothing to predict.`, ...weak] };
  if (!sameMethod || line.count === 2) return { cautions: weak };
  const dates = datesFor(line, threshold, step);
  if (typeof dates !== 'string') return { days: dates, cautions: [...doubtsOf(dates, line, shown), ...weak] };
  return {
    ...(dates === 'line-already-there' ? { days: { earliest: line.lastDay } } : {}),
    cautions: [...whyNoDate(dates, line, test, shown), ...weak],
  };
}

/** Why there is no date, or none but the last reading's own; `shown` is the threshold with its unit. */
function whyNoDate(reason: NoDate, line: Line, test: Test, shown: string): string[] {
  switch (reason) {
    case 'line-already-there':
      return [
        `The line is already at or below ${shown}, though the last reading is above it. Plan as if the threshold had been reached.`,
      ];
    case 'no-interval':
      // `width` gives the reason, whether or not there is a threshold to plan for.
      return [];
    case 'not-falling':
      return ['The line is not falling, so no date is given. Keep measuring: a fall can begin later.'];
    case 'fall-not-sure':
      return [
        `The fall could be chance: the 95 % interval of the change, ${slopeInterval(line, test)}, contains zero. So no date is given. A fall is not ruled out: measure again.`,
      ];
    case 'too-far':
      return [
        `On this line ${shown} is more than ${horizonMonths} months away. A line that far ahead is a guess, so no date is given.`,
      ];
  }
}

/** What makes a date that is given doubtful. */
function doubtsOf({ earliest, line: onLine }: Reaches, { firstDay, lastDay }: Line, shown: string): string[] {
  return [
    ...(earliest <= lastDay
      ? [
          `The interval already reaches ${shown}, so the next reading could be at the threshold. The readings vary too much for a later date.`,
        ]
      : []),
    ...(onLine - lastDay > lastDay - firstDay
      ? ['The threshold is further ahead than the readings go back. Use only the earliest day for planning.']
      : []),
  ];
}

const slopeUnits = {
  slopePoints: '{points}/mo',
  slopeLitres: 'L/mo',
  slopePressure: 'cm[H2O]/mo',
  slopeFlow: 'L/min/mo',
} as const satisfies Record<Test['slope'], UnitCode>;

/** '\u22124.1 to 0.3 points per month': what the change may be. */
function slopeInterval(line: Line, { slope: result, decimals }: Test): string {
  const half = slopeHalfWidthOf(line) ?? Number.NaN;
  const monthly = (slope: number) => slope * daysInMonth;
  return `${showNumber(monthly(line.slope - half), decimals)} to ${show(monthly(line.slope + half), slopeUnits[result], decimals)}`;
}

/** What the width of the interval rests on, where that is not the readings; or why there is no interval. */
function width(line: Line, chosen: DeclineTest): string[] {
  if (line.count === 2) return [];
  const test: Test = tests[chosen];
  const chance = chanceIn(chosen, line.meanValue);
  if (!chance)
    return [
      `No published figure says how far two ${test.plural} of one person differ by chance. No interval and no date are given for this reason. Judge each reading by itself.`,
    ];
  if (line.reach === undefined || line.reach > chance.difference / Math.SQRT2) return [];
  return [
    `The interval reflects how much the test varies when repeated: two ${test.plural} can differ by ${show(chance.difference, test.unit === '%' ? '{points}' : test.unit, test.decimals)} by chance (${chance.found}).`,
  ];
}

/** The same days counted from the last reading, and the day by which the usual wait has to begin. */
function timesAfterLast(line: Line, days: NonNullable<Plan['days']>, waitWeeks: number | undefined, step: Step) {
  const { lastDay } = line;
  const earliest = step(ahead, { day: days.earliest, lastDay });
  const results = {
    earliest: { value: earliest },
    ...(days.line === undefined ? {} : { crossing: { value: step(ahead, { day: days.line, lastDay }) } }),
  };
  if (waitWeeks === undefined) return { results, cautions: [] };
  const wait = waitWeeks * 7;
  const arrangeBy = step(arrangeBefore, { earliest, wait });
  if (arrangeBy > 0) return { results: { ...results, arrangeBy: { value: arrangeBy } }, cautions: [] };
  return {
    results,
    cautions: [
      `There is no time left: the usual wait (${show(wait, 'd', 0)}) is not shorter than the time from the last reading to the earliest day at the threshold (${show(earliest, 'd', 0)}).`,
    ],
  };
}

function misread(
  test: Test,
  values: readonly { row: number; value: number }[],
  threshold: number | undefined,
): Problem[] {
  const [low, high] = test.limits;
  const problem = (field: string, start: string, value: number): Problem[] =>
    value >= low && value <= high
      ? []
      : [
          {
            field,
            message: `${start}: ${test.name} is between ${low} and ${high}. Is ${value} ${value < low ? test.below : test.above}?`,
          },
        ];
  return [
    ...values.flatMap(({ row, value }) => problem('readings', `Row ${row}`, value)),
    ...(threshold === undefined ? [] : problem('threshold', 'Threshold', threshold)),
  ];
}

const odd = (test: Test, values: readonly { row: number; value: number }[]): string[] =>
  values
    .filter(({ value }) => test.oddBelow !== undefined && value < test.oddBelow)
    .map(({ row, value }) => `Row ${row}: ${test.name} of ${value} is unusual. Is it ${test.below}?`);

/** Two tries of one day would count as two visits and make the line look surer than it is. */
function sameDay(readings: readonly SeriesRow<'time' | 'value'>[]): Problem[] {
  const rowOf = new Map<number, number>();
  return readings.flatMap(({ row, time }) => {
    const first = rowOf.get(time);
    if (first === undefined) rowOf.set(time, row);
    return first === undefined
      ? []
      : [{ field: 'readings', message: `Row ${row}: same day as row ${first}. Keep the best reading of a day` }];
  });
}

/** Where the next readings would fall if the line holds: for comparing the next visit with it. */
function nextReadings(line: Line, test: Test): ResultTable {
  return {
    caption: 'Where the next reading would fall if the line continues (95 % interval)',
    columns: ['After the last reading', 'Line', 'From', 'To'],
    rows: [1, 2, 3].map((months) => {
      const day = line.lastDay + months * daysInMonth;
      const value = valueOn(line, day);
      const half = halfWidthOn(line, day) ?? 0;
      return {
        label: months === 1 ? '1 month' : `${months} months`,
        cells: [value, value - half, value + half].map((number) => show(Math.max(0, number), test.unit, test.decimals)),
      };
    }),
  };
}

const published: ResultTable = {
  caption: 'Average falls in published groups, in percentage points of predicted. They are not a target or a forecast',
  columns: ['Group', 'Points', 'How known'],
  rows: [
    { label: 'ALS, Fitting 1999, 16 people', cells: ['4.1 a month', 'checked, abstract'] },
    { label: 'ALS, Andrews 2018, 456 people on placebo', cells: ['2.7 a month', 'checked, table 2'] },
    { label: 'The same, over 65 years', cells: ['3.6 a month', 'checked, table 2'] },
    { label: 'ALS, Rigakuryoho 2005, fast, linear, slow', cells: ['18.3, 6.0, 2.0 a month', 'checked, abstract'] },
    { label: 'Duchenne, DELOS placebo, 10 to 18 years', cells: ['8.7 a year', 'checked, abstract'] },
    { label: 'Duchenne, review, 5 to 24 and 12 to 15 years', cells: ['5 and 10.7 a year', 'read in a summary'] },
  ],
};
