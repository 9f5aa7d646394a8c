/**
 * Where the time of one breath goes.
 *
 *   one breath = 60 / rate
 *   time out   = one breath - time in
 *   I:E        = 1 : (time out / time in)
 *   duty cycle = time in / one breath
 *
 * A fixed inspiratory time eats a growing share of the breath as the rate goes up: 1.2 s leaves 2.8 s
 * to breathe out at 15 a minute and 0.8 s at 30. When a back-up rate or a fast breather meets a long
 * inspiratory time, this is the calculation to do.
 *
 * @refuses an inspiratory time as long as the whole breath
 */
import { defineCalculator, formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import { show, showNumber } from '../quantity.ts';
import { breathRate } from './shared-fields.ts';

const seconds = { unit: 's', range: [0.3, 10] } as const;
const breathTime = { means: 'time of one breath', ...seconds } as const;
const timeIn = { means: 'time breathing in', unit: 's', range: [0.3, 3] } as const;

const oneBreath = formula({
  result: 'breathTime',
  unit: 's',
  text: '60 / rate',
  withUnits: '1 / rate',
  symbols: { rate: { means: 'breaths a minute', unit: '1/min', range: [2, 80] } },
  run: ({ rate }) => 60 / rate,
});

const out = formula({
  result: 'timeOut',
  unit: 's',
  text: 'breathTime - timeIn',
  symbols: { breathTime, timeIn },
  run: ({ breathTime, timeIn }) => breathTime - timeIn,
});

const ratio = formula({
  result: 'outForOneIn',
  unit: '',
  text: 'timeOut / timeIn',
  symbols: { timeOut: { means: 'time breathing out', ...seconds }, timeIn },
  run: ({ timeOut, timeIn }) => timeOut / timeIn,
});

const duty = formula({
  result: 'dutyCycle',
  unit: '',
  text: '100 * timeIn / breathTime',
  symbols: { timeIn, breathTime },
  run: ({ timeIn, breathTime }) => (100 * timeIn) / breathTime,
});

export default defineCalculator({
  id: 'breath-timing',
  title: 'Breath timing and I:E',
  purpose: 'Calculates the time left to breathe out from a breathing rate and an inspiratory time.',
  group: 'gas',
  keywords: ['I:E ratio', 'inspiratory time', 'Ti', 'expiratory time', 'duty cycle', 'cycle time', 'back-up rate'],
  fields: {
    rate: breathRate,
    timeIn: {
      kind: 'number',
      label: 'Inspiratory time',
      unit: 's',
      plausible: [0.5, 2],
      hard: [0.1, 5],
      help: 'Enter the inspiratory time as set or as measured. In a spontaneous ventilator mode, inspiratory time varies from breath to breath.',
    },
  },
  formulas: { oneBreath, out, ratio, duty },
  results: {
    timeOut: { label: 'Time to breathe out', unit: 's', decimals: 2, plausible: [0.3, 9], main: true },
    ratio: { label: 'I:E, parts out for 1 part in', unit: '{ratio}', decimals: 1, plausible: [0.25, 12], main: true },
    breathTime: { label: 'Time of one breath', unit: 's', decimals: 2, plausible: [0.9, 12] },
    duty: { label: 'Share of the breath spent breathing in', unit: '%', decimals: 0, plausible: [7, 80] },
  },
  holds: { population: 'breaths with a known rate and inspiratory time', notFor: 'choosing a ventilator setting' },
  cautions: [
    'The prescriber sets the rate and the inspiratory time. If these settings look wrong for the person, report what you see.',
  ],
  citations: [{ cite: 'Breath timing', locator: 'definitions', standing: 'common-practice' }],
  compute: ({ rate, timeIn }, step) => {
    const breathTime = step(oneBreath, { rate });
    if (timeIn >= breathTime)
      return refuse(
        'timeIn',
        `At ${showNumber(rate, 0)} breaths a minute one breath lasts ${show(breathTime, 's', 2)}. An inspiratory time of ${show(timeIn, 's', 2)} does not fit`,
      );
    const timeOut = step(out, { breathTime, timeIn });
    return {
      results: {
        timeOut: { value: timeOut },
        ratio: { value: step(ratio, { timeOut, timeIn }) },
        breathTime: { value: breathTime },
        duty: { value: step(duty, { timeIn, breathTime }) },
      },
      cautions:
        timeOut < timeIn
          ? [
              'Breathing in takes longer than breathing out (an inverse ratio): air may be trapped. Check the rate and the time.',
            ]
          : [],
    };
  },
});
