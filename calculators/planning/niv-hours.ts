/**
 * Hours of ventilation a day, from a list of days.
 *
 *   average = sum of hours / days listed
 *
 * The average says how much the ventilator is used; the shortest day says whether the person can do
 * without. A day without use is a 0, not an empty row: leaving it out makes the average too good.
 *
 * @param days  { hours: 0 to 24 }[], in any order, 1 to 92 rows (three months)
 * @returns average a day, shortest and longest day, and days of 4 hours or more. Four hours is where
 *          payers and two ALS cohorts draw their line; it is a floor for counting and not a dose
 */
import { defineCalculator, formula } from '../calculator.ts';
import { showNumber } from '../quantity.ts';

/** Hours a day that payers and cohorts count as use. */
const countedHours = 4;

export const average = formula({
  result: 'average',
  unit: 'hour',
  text: 'total / days',
  symbols: {
    total: { means: 'total hours of use', unit: 'hour', range: [0, 2208] },
    days: { means: 'days listed', unit: '', range: [1, 92] },
  },
  run: ({ total, days }) => total / days,
});

const share = formula({
  result: 'shareOfDays',
  unit: '',
  text: '100 * counted / days',
  symbols: {
    counted: { means: 'days of 4 hours or more', unit: '', range: [0, 92] },
    days: { means: 'days listed', unit: '', range: [1, 92] },
  },
  run: ({ counted, days }) => (100 * counted) / days,
});

export default defineCalculator({
  id: 'niv-hours',
  title: 'Hours of ventilation a day',
  purpose: 'Averages the hours of ventilator use over a list of days, and counts the days of 4 hours or more.',
  group: 'sessions',
  keywords: [
    'NIV hours',
    'adherence',
    'compliance',
    'usage',
    'download',
    '4 hours',
    'ventilator use',
    'second ventilator',
  ],
  fields: {
    hours: {
      kind: 'series',
      label: 'Hours of use',
      row: 'Day',
      columns: [{ name: 'hours', label: 'Hours', unit: 'h', accepts: ['min'], plausible: [0, 24], hard: [0, 24] }],
      min: 1,
      max: 92,
      help: 'Fill in one row for each 24 hours, from the download or the diary. Enter 0 for a day without ventilator use; do not leave the row empty.',
    },
  },
  formulas: { average, share },
  results: {
    average: { label: 'Average use', unit: 'h/d', decimals: 1, plausible: [0, 24], main: true, measure: 'niv-hours' },
    days: { label: 'Days listed', unit: '{count}', decimals: 0, plausible: [1, 400] },
    counted: { label: 'Days of 4 hours or more', unit: '{count}', decimals: 0, plausible: [0, 400] },
    share: { label: 'Share of days of 4 hours or more', unit: '%', decimals: 0, plausible: [0, 100] },
    shortest: { label: 'Shortest day', unit: 'h', decimals: 1, plausible: [0, 24] },
    longest: { label: 'Longest day', unit: 'h', decimals: 1, plausible: [0, 24] },
  },
  holds: { population: 'anyone on ventilation whose hours are recorded' },
  cautions: [
    'Hours of use show that the ventilator ran, not that ventilation worked. In the download, check leak first, then breaths, then saturation and CO2.',
    'Hours of use that rise, or spread into the day, can mean increasing weakness. Report a change in hours, whatever the average is.',
    'Payers and studies use a cut-off of four hours of ventilator use a day. Four hours is not a target: use the ventilator as prescribed. In one ALS cohort, more hours of use were associated with longer survival. The extra hours may not be the cause, because frail people may use NIV for fewer hours, or for more.',
    'The rule of 4 hours on 70 % of days belongs to a US coverage decision for COPD and not to neuromuscular disease.',
  ],
  citations: [
    {
      cite: 'US federal draft review document on respiratory assist devices, appendices A and B',
      locator:
        'where payment requires an average use of 4 h in 24 h at the re-evaluation after the first months; this is not a measure of need',
      standing: 'checked-in-summary',
    },
    {
      cite: 'ALS cohort on NIV and adherence. Pulmonology, S2531-0437(19)30099-6',
      locator: 'definition: 4 h a night, or 120 h a month',
      standing: 'checked',
    },
    {
      cite: 'Khamankar N, et al. Front Neurol 2018;9:578',
      locator: 'abstract: NIV use of more than 8 h a day and survival in ALS',
      standing: 'checked',
    },
    {
      cite: 'US NCD 240.9 (2025)',
      locator: 'use of 4 h a day on 70 % of days, for COPD only',
      standing: 'checked',
    },
    {
      cite: 'Rising hours as a sign of rising dependence',
      locator: 'usual teaching on reading a download, from memory',
      standing: 'from-memory',
    },
  ],
  compute: ({ hours: rows }, step) => {
    const hours = rows.map((row) => row.hours);
    const days = hours.length;
    const counted = hours.filter((used) => used >= countedHours).length;
    const unused = hours.filter((used) => used === 0).length;
    return {
      results: {
        average: { value: step(average, { total: hours.reduce((total, used) => total + used, 0), days }) },
        days: { value: days },
        counted: { value: counted },
        share: { value: step(share, { counted, days }) },
        shortest: { value: Math.min(...hours) },
        longest: { value: Math.max(...hours) },
      },
      cautions: [
        ...(days < 7
          ? [`${showNumber(days, 0)} ${days === 1 ? 'day is' : 'days are'} few. A week or more tells you more.`]
          : []),
        ...(unused > 0
          ? [
              `${showNumber(unused, 0)} ${unused === 1 ? 'day' : 'days'} without any use. Ask why before you read the average.`,
            ]
          : []),
      ],
    };
  },
});
