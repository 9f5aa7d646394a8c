/**
 * How long a battery runs a device, on its label and as a time to plan with.
 *
 *   label = watt-hours / watts
 *   plan  = run time x share allowed      run time: measured at the person's own settings if known, else the label's
 *
 * A label is written for a new battery, warm, at gentle settings. Rate, leak, humidifier, age and cold
 * all change it, so a run timed at the person's own settings replaces the label, and only part of
 * either is planned with.
 *
 * @param share  per cent of the run time to plan with. No usual figure is filled in: the device's
 *               instructions and the team say it
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';

const hours = { unit: 'hour', range: [0.2, 40] } as const;

const byLabel = formula({
  result: 'labelTime',
  unit: 'hour',
  text: 'capacity / draw',
  symbols: {
    capacity: { means: 'energy in the battery', unit: 'W hour', range: [10, 2000] },
    draw: { means: 'power drawn', unit: 'W', range: [3, 400] },
  },
  run: ({ capacity, draw }) => capacity / draw,
});

const ofLabel = formula({
  result: 'measuredShare',
  unit: '',
  text: '100 * measured / label',
  symbols: { measured: { means: 'measured run time', ...hours }, label: { means: 'run time by label', ...hours } },
  run: ({ measured, label }) => (100 * measured) / label,
});

export const planned = formula({
  result: 'planTime',
  unit: 'hour',
  text: 'runTime * share / 100',
  symbols: {
    runTime: { means: 'run time, measured or by label', ...hours },
    share: { means: 'share of it to plan with, per cent', unit: '', range: [10, 100] },
  },
  run: ({ runTime, share }) => (runTime * share) / 100,
});

const bench: Citation = {
  cite: 'Falaize L, Leroux K, Prigent H, et al. Respir Care 2014;59:1048-1052',
  locator:
    'abstract: a bench test of five home ventilators on a test lung, with breaths of 700 mL and an inspiratory time of 1.2 s',
  standing: 'checked',
};

export default defineCalculator({
  id: 'battery-run-time',
  title: 'Battery run time',
  purpose: 'Calculates how long a battery should last, and how much of that time to use in planning.',
  group: 'going-out',
  keywords: ['battery', 'watt-hour', 'Wh', 'power cut', 'outage', 'travel', 'run time', 'ventilator battery'],
  fields: {
    capacity: {
      kind: 'number',
      label: 'Battery energy',
      unit: 'W.h',
      plausible: [30, 600],
      hard: [5, 3000],
      help: 'The energy is printed on the battery in Wh. If only volts and amp-hours are printed, multiply the volts by the amp-hours.',
    },
    draw: {
      kind: 'number',
      label: 'Power drawn',
      unit: 'W',
      plausible: [10, 200],
      hard: [1, 1000],
      help: 'Take the power consumption from the device\u2019s instructions, for the humidifier setting that will be used.',
    },
    measured: {
      kind: 'number',
      label: 'Run time measured at the person\u2019s own settings',
      unit: 'h',
      accepts: ['min'],
      plausible: [0.5, 24],
      hard: [0.05, 72],
      optional: true,
      help: 'Measure how long this battery lasts from full charge to the low-battery alarm. Keep mains power or another ventilator beside the person during the measurement.',
    },
    share: {
      kind: 'number',
      label: 'Share of the run time to use in planning',
      unit: '%',
      accepts: ['1'],
      plausible: [40, 100],
      hard: [10, 100],
      optional: true,
      help: 'Planning with less than 100 % of the run time leaves a margin for battery age, cold and mask leak. If you enter no percentage, the calculation uses the whole run time.',
    },
  },
  formulas: { byLabel, ofLabel, planned },
  results: {
    plan: { label: 'Run time for planning', unit: 'h', decimals: 1, plausible: [0.1, 48], main: true },
    label: { label: 'Run time by the label', unit: 'h', decimals: 1, plausible: [0.1, 60] },
    ofLabel: { label: 'Measured, as a share of the label', unit: '%', decimals: 0, plausible: [10, 150] },
  },
  holds: {
    population: 'one battery and one device',
    notFor: 'oxygen concentrators, whose power draw changes with the flow',
  },
  before: [
    'If the ventilator stops and the person cannot breathe well without it, ventilate by hand and call emergency services. The calculation can wait.',
  ],
  cautions: [
    'You know how long a battery lasts only after it has been run flat at the person\u2019s own settings. Repeat the battery test as the battery ages.',
    'A heated humidifier can draw more power than the ventilator. Ask whether the humidifier may be switched off while the ventilator runs on battery.',
    'If the person cannot be without the ventilator, keep a second source of power and a resuscitation bag within reach.',
  ],
  citations: [
    bench,
    { cite: 'Run time: stored energy divided by power drawn', locator: 'definition', standing: 'common-practice' },
    {
      cite: "Advice to test the battery at the person's own settings, to switch the humidifier off on battery, and to keep a spare battery and a resuscitation bag within reach",
      locator: 'usual teaching, from memory',
      standing: 'from-memory',
    },
  ],
  compute: ({ capacity, draw, measured, share }, step) => {
    const label = step(byLabel, { capacity, draw });
    const measuredShare = measured === undefined ? undefined : step(ofLabel, { measured, label });
    return {
      results: {
        plan: { value: step(planned, { runTime: measured ?? label, share: share ?? 100 }) },
        label: { value: label },
        ...(measuredShare === undefined ? {} : { ofLabel: { value: measuredShare } }),
      },
      cautions: [
        ...(share === undefined ? ['Nothing is kept back for age, cold or leak.'] : []),
        ...(measured === undefined
          ? [
              'This run time comes from the label only. The battery has not been tested at the person\u2019s own settings.',
            ]
          : []),
        ...(measuredShare !== undefined && measuredShare > 120
          ? ['The measured time is well above the label. Check both numbers, and that the right battery was timed.']
          : []),
      ],
      tables: [whatMovesIt],
    };
  },
});

const whatMovesIt: ResultTable = {
  caption:
    'What changed run time on a test bench (Falaize 2014, mean of five ventilators; do not use it to correct this one)',
  columns: ['Change', 'Run time'],
  rows: [
    { label: 'Rate from 10 to 20 a minute', cells: ['18 % shorter (SD 11)'] },
    { label: 'Leak, pressure support', cells: ['13 % shorter (SD 15)'] },
    { label: 'Leak, volume control', cells: ['18 % longer (SD 20)'] },
    { label: 'PEEP of 5 cmH2O added', cells: ['no significant change'] },
    { label: 'Volume control or pressure support', cells: ['no significant change'] },
  ],
};
