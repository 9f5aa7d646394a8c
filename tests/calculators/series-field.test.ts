import { describe, expect, test } from 'vitest';
import { defineCalculator, formula } from '../../calculators/calculator.ts';
import { ask } from './ask.ts';

const mean = formula({
  result: 'mean',
  unit: '',
  text: 'total / count',
  symbols: {
    total: { means: 'sum', unit: '', range: [0, 1] },
    count: { means: 'rows', unit: '', range: [1, 2] },
  },
  run: ({ total, count }) => total / count,
});

const sample = defineCalculator({
  id: 'sample',
  title: 'Sample',
  purpose: 'Stands in for any calculator with a table to fill.',
  group: 'sessions',
  keywords: [],
  fields: {
    visits: {
      kind: 'series',
      label: 'Visits',
      row: 'Visit',
      columns: [
        { name: 'day', label: 'Day', unit: 'd', accepts: ['wk'], plausible: [0, 400], hard: [0, 4000] },
        { name: 'flow', label: 'Cough flow', unit: 'L/min', accepts: ['L/s'], plausible: [60, 600], hard: [20, 1200] },
      ],
      min: 2,
      max: 3,
    },
  },
  formulas: { mean },
  results: {
    mean: { label: 'Mean', unit: 'L/min', decimals: 0, plausible: [0, 1000] },
    lastRow: { label: 'Last', unit: '{count}', decimals: 0, plausible: [0, 1000] },
  },
  holds: { population: 'tests' },
  cautions: ['Made up.'],
  citations: [],
  compute: ({ visits }, step) => ({
    results: {
      mean: {
        value: step(mean, { total: visits.reduce((total, { flow }) => total + flow, 0), count: visits.length }),
      },
      lastRow: { value: visits.at(-1)?.row ?? 0 },
    },
  }),
});
const { answer, value, problems } = ask(sample);

describe('a series field', () => {
  test('hands over its rows in the unit of each column', () => {
    const visits = [
      { day: 0, flow: 300 },
      { day: { value: 4, unit: 'wk' }, flow: { value: 4, unit: 'L/s' } },
    ];
    expect(value({ visits }, 'mean')).toBe(270);
  });

  test('passes over empty rows, and keeps the number a row has on the screen', () => {
    const visits = [{ day: 0, flow: 300 }, {}, null, { day: '', flow: undefined }, { day: 30, flow: 240 }];
    expect(value({ visits: visits as never }, 'mean')).toBe(270);
    expect(value({ visits: visits as never }, 'lastRow')).toBe(5);
  });

  test('names the row and the likely unit of a number that does not fit', () => {
    const visits = [
      { day: 0, flow: 300 },
      { day: 10, flow: 280 },
      { day: 30, flow: 4.5 },
    ];
    expect(problems({ visits })).toEqual([
      { field: 'visits', message: 'Row 3: Cough flow is between 20 and 1200 L/min. Is 4.5 in L/s?' },
    ]);
  });

  test('asks for the missing half of a row', () => {
    expect(problems({ visits: [{ day: 0, flow: 300 }, { day: 30 }] })).toEqual([
      { field: 'visits', message: 'Row 2: Enter cough flow' },
    ]);
  });

  test('carries a caution on an unusual row', () => {
    const visits = [
      { day: 0, flow: 300 },
      { day: 30, flow: 40 },
    ];
    expect(answer({ visits }).cautions[0]).toBe(
      'Row 2: Cough flow 40 L/min is unusual: check that it was read and typed correctly',
    );
  });

  test('says how many rows are wanted', () => {
    expect(problems({ visits: [{ day: 0, flow: 300 }] })).toEqual([
      { field: 'visits', message: 'Visits: fill at least 2 rows. Filled now: 1' },
    ]);
    expect(problems({ visits: [0, 1, 2, 3].map((day) => ({ day, flow: 300 })) })).toEqual([
      { field: 'visits', message: 'Visits: fill at most 3 rows. Filled now: 4' },
    ]);
  });

  test.each([[undefined], [null], [''], [[]], [[{}, { day: '' }]]])('%j is not yet filled', (visits) => {
    expect(problems({ visits: visits as never })).toEqual([{ field: 'visits', message: 'Enter visits' }]);
  });

  test('a single number where a table is wanted is refused, not guessed at', () => {
    expect(problems({ visits: 300 })).toEqual([{ field: 'visits', message: 'Enter visits row by row' }]);
    expect(problems({ visits: [1, 'two'] as never }).map(({ message }) => message)).toEqual([
      'Row 1: Enter day',
      'Row 1: Enter cough flow',
      'Row 2: Enter day',
      'Row 2: Enter cough flow',
    ]);
  });
});
