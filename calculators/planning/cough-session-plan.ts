/**
 * Length of an ordered session of mechanical cough assistance (MI-E), and how many cycles it holds.
 *
 *   one set = cycles x (time in + time out + pause)
 *   session = sets x one set + (sets - 1) x rest
 *
 * The rests are part of the treatment: too many deep breaths in a row wash out CO2, and the person gets
 * light-headed or tingles. Knowing that a session takes five minutes also decides whether it fits
 * before a meal or the school bus.
 *
 * Nothing is filled in. Each number is taken from the person's own order; patterns of others stand in a
 * table as examples.
 *
 * @refuses part sets or cycles
 */
import { defineCalculator, formula } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';

const seconds = { unit: 's', range: [0.5, 60] } as const;
const cycles = { means: 'cycles in a set', unit: '', range: [1, 15] } as const;
const sets = { means: 'sets', unit: '', range: [1, 12] } as const;

const oneSet = formula({
  result: 'setTime',
  unit: 's',
  text: 'cycles * (timeIn + timeOut + pause)',
  symbols: {
    cycles,
    timeIn: { means: 'time in', ...seconds },
    timeOut: { means: 'time out', ...seconds },
    pause: { means: 'pause', ...seconds },
  },
  run: ({ cycles, timeIn, timeOut, pause }) => cycles * (timeIn + timeOut + pause),
});

export const session = formula({
  result: 'sessionTime',
  unit: 'min',
  text: '(sets * setTime + (sets - 1) * rest) / 60',
  withUnits: 'sets * setTime + (sets - 1) * rest',
  symbols: {
    sets,
    setTime: { means: 'time of one set', unit: 's', range: [2, 300] },
    rest: { means: 'rest', ...seconds },
  },
  run: ({ sets, setTime, rest }) => (sets * setTime + (sets - 1) * rest) / 60,
});

export const allCycles = formula({
  result: 'cyclesInAll',
  unit: '',
  text: 'sets * cycles',
  symbols: { sets, cycles },
  run: ({ sets, cycles }) => sets * cycles,
});

export default defineCalculator({
  id: 'cough-session-plan',
  title: 'Cough session: sets, rests and time',
  purpose:
    'Adds up the time of a prescribed cough-assist session, and paces the session on the screen breath by breath.',
  group: 'sessions',
  keywords: ['MI-E', 'mechanical insufflation-exsufflation', 'cough assist', 'sets', 'cycles', 'session'],
  fields: {
    sets: {
      kind: 'number',
      label: 'Sets',
      unit: '{count}',
      plausible: [1, 8],
      hard: [1, 20],
      help: 'Take the number of sets from the person\u2019s order. The number of sets differs between services, so ask the service that prescribed the session.',
    },
    cycles: {
      kind: 'number',
      label: 'Cycles in each set',
      unit: '{count}',
      plausible: [1, 6],
      hard: [1, 20],
      help: 'One cycle is one breath in, one breath out and the pause.',
    },
    timeIn: { kind: 'number', label: 'Seconds in', unit: 's', plausible: [0.8, 4], hard: [0.2, 10] },
    timeOut: { kind: 'number', label: 'Seconds out', unit: 's', plausible: [0.8, 4], hard: [0.2, 10] },
    pause: { kind: 'number', label: 'Pause in seconds', unit: 's', plausible: [0, 5], hard: [0, 20] },
    rest: {
      kind: 'number',
      label: 'Rest between sets',
      unit: 's',
      accepts: ['min'],
      plausible: [15, 180],
      hard: [0, 900],
      help: 'The rest between sets includes suction of the mouth and time for the person to settle.',
    },
  },
  formulas: { oneSet, session, allCycles },
  results: {
    session: { label: 'Time of the session', unit: 'min', decimals: 1, plausible: [0.1, 60], main: true },
    allCycles: { label: 'Cycles in all', unit: '{count}', decimals: 0, plausible: [1, 80], main: true },
    setTime: { label: 'Time of one set', unit: 's', decimals: 0, plausible: [1, 240] },
  },
  holds: {
    population: 'a session already prescribed for this person',
    notFor: 'choosing sets, cycles, times or pressures; a first session',
  },
  before: [
    'Stop the session if there is chest pain, blood, distress, light-headedness, tingling, a falling saturation or a chest that does not rise, or if the person wants to stop. If the person is drowsy, grey or cannot clear the airway, call emergency services.',
  ],
  cautions: [
    'Never continue to the point of hyperventilation. If the person feels light-headed or has tingling, let them rest, and do fewer cycles in a row until you have asked the team.',
    'Do not use the cough machine without medical clearance after a recent pneumothorax, just after chest, airway or facial surgery, or in someone with bullae, haemoptysis, vomiting or a full stomach.',
    'Clear the mouth after each set of cycles. The prescriber sets pressures and times. If the order differs from this page, follow the order.',
  ],
  citations: [
    {
      cite: 'Hospital leaflet on MI-E at home',
      locator: '4 sets of 5 breaths, rest 20 to 30 s, 1 s in, 1 s out, pause 1 to 2 s',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Home-nursing checklist, MI-E by tracheostomy',
      locator: '5 sets of 5, 2 s in, 1.5 s out, pause 2 s',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Chatwin M, Simonds AK. Long-term MI-E in one large service, 2020',
      locator: 'median times: 1.5 s in, 1.8 s out, pause 1.5 s',
      standing: 'checked',
    },
    {
      cite: '4 to 5 sets of 3 to 5 cycles with a rest between sets',
      locator: 'the documented pattern, from the leaflet and checklist above',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Stop signs and reasons for medical clearance',
      locator: 'usual teaching, from memory',
      standing: 'from-memory',
    },
  ],
  compute: ({ sets, cycles, timeIn, timeOut, pause, rest }, step) => {
    if (!Number.isInteger(sets)) return refuse('sets', `Sets are counted whole. Is ${sets} a time in seconds?`);
    if (!Number.isInteger(cycles)) return refuse('cycles', `Cycles are counted whole. Is ${cycles} a time in seconds?`);
    const setTime = step(oneSet, { cycles, timeIn, timeOut, pause });
    return {
      results: {
        session: { value: step(session, { sets, setTime, rest }) },
        allCycles: { value: step(allCycles, { sets, cycles }) },
        setTime: { value: setTime },
      },
      cautions: [
        ...(cycles > 5
          ? [
              `${cycles} cycles in a row are more than the 3 to 5 of the documented patterns, and hyperventilation comes sooner. Check the order.`,
            ]
          : []),
        ...(sets > 1 && rest === 0 ? ['Without a rest the sets run into each other. Check the order.'] : []),
      ],
      tables: [patterns],
    };
  },
});

const patterns: ResultTable = {
  caption: 'Patterns used by others: examples, not orders',
  columns: ['Where', 'Sets of cycles', 'In, out, pause', 'Rest'],
  rows: [
    { label: 'Hospital leaflet', cells: ['4 of 5', '1, 1, 1 to 2\u00a0s', '20 to 30\u00a0s'] },
    { label: 'Home-nursing checklist, tracheostomy', cells: ['5 of 5', '2, 1.5, 2\u00a0s', 'not said'] },
    { label: 'One large service, medians', cells: ['not said', '1.5, 1.8, 1.5\u00a0s', 'not said'] },
  ],
};
