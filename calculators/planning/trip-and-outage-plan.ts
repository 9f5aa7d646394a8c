/**
 * Batteries against hours: for a day out, a flight or a power cut.
 *
 *   to cover  = hours of use x margin
 *   available = built-in hours + batteries x hours each
 *   needed    = (to cover - built-in hours) / hours each, rounded up
 *   leave by  = available / margin - hours to reach power      counted from the start, no clock
 *
 * A plan that just fits does not fit: traffic, a late flight, a longer cut. So the hours are multiplied
 * first. `leave by` is the last moment at which the charged batteries, with the margin still kept, reach
 * a place with power.
 *
 * @param margin  times the hours; 1.5 to 2 is common practice (not yet checked), no number is filled in
 * @refuses part batteries
 */
import { defineCalculator, formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import { show } from '../quantity.ts';

const hours = { unit: 'hour', range: [0.5, 60] } as const;
const margin = { means: 'margin', unit: '', range: [1, 4] } as const;

export const toCover = formula({
  result: 'toCover',
  unit: 'hour',
  text: 'needed * margin',
  symbols: { needed: { means: 'hours of use', ...hours }, margin },
  run: ({ needed, margin }) => needed * margin,
});

export const available = formula({
  result: 'available',
  unit: 'hour',
  text: 'builtIn + batteries * each',
  symbols: {
    builtIn: { means: 'hours on the built-in battery', ...hours },
    batteries: { means: 'charged batteries', unit: '', range: [0, 20] },
    each: { means: 'hours on each battery', ...hours },
  },
  run: ({ builtIn, batteries, each }) => builtIn + batteries * each,
});

export const batteriesNeeded = formula({
  result: 'batteriesNeeded',
  unit: '',
  text: 'max(0, ceil((cover - builtIn) / each))',
  symbols: {
    cover: { means: 'hours to cover', ...hours },
    builtIn: { means: 'hours on the built-in battery', ...hours },
    each: { means: 'hours on each battery', ...hours },
  },
  // What fits exactly must not cost one more because 0.1 + 0.2 is not quite 0.3: whole numbers are taken
  // as whole within mathjs's own tolerance, so that the printed formula and this agree.
  run: ({ cover, builtIn, each }) => {
    const exact = (cover - builtIn) / each;
    const whole = Math.round(exact);
    const isWhole = Math.abs(exact - whole) <= Math.max(1e-12 * Math.max(Math.abs(exact), Math.abs(whole)), 1e-15);
    return Math.max(0, isWhole ? whole : Math.ceil(exact));
  },
});

const difference = formula({
  result: 'spare',
  unit: 'hour',
  text: 'available - cover',
  symbols: { available: { means: 'hours available', ...hours }, cover: { means: 'hours to cover', ...hours } },
  run: ({ available, cover }) => available - cover,
});

export const leaveBy = formula({
  result: 'leaveBy',
  unit: 'hour',
  text: 'available / margin - travel',
  symbols: {
    available: { means: 'hours available', ...hours },
    margin,
    travel: { means: 'hours to reach power', unit: 'hour', range: [0, 20] },
  },
  run: ({ available, margin, travel }) => available / margin - travel,
});

export default defineCalculator({
  id: 'trip-and-outage-plan',
  title: 'Trip and power-cut plan',
  purpose:
    'Calculates the batteries that a trip or a power cut needs, and the latest time to leave for a place with power.',
  group: 'going-out',
  keywords: ['battery', 'travel', 'flight', 'power cut', 'outage', 'blackout', 'holiday', 'back-up'],
  fields: {
    needed: {
      kind: 'number',
      label: 'Hours of use to cover',
      unit: 'h',
      accepts: ['min'],
      plausible: [0.5, 48],
      hard: [0.1, 240],
      help: 'Enter the hours on the ventilator away from mains power, including waiting and delays. For a flight, count the hours from door to door.',
    },
    margin: {
      kind: 'number',
      label: 'Margin (times the hours)',
      unit: '{ratio}',
      plausible: [1.25, 3],
      hard: [1, 5],
      help: 'For a flight, it is common practice to plan for 1.5 to 2 times the hours of use (not yet checked). The airline, the device instructions or the team may require a different margin.',
    },
    each: {
      kind: 'number',
      label: 'Hours on each battery',
      unit: 'h',
      accepts: ['min'],
      plausible: [1, 12],
      hard: [0.1, 72],
      help: 'Enter the “run time for planning” from the battery page, not the run time on the label.',
    },
    batteries: {
      kind: 'number',
      label: 'Charged batteries at hand',
      unit: '{count}',
      plausible: [0, 8],
      hard: [0, 30],
      help: 'Count only batteries that are fully charged and tested. Do not count the built-in battery.',
    },
    builtIn: {
      kind: 'number',
      label: 'Hours on the built-in battery',
      unit: 'h',
      accepts: ['min'],
      plausible: [0, 12],
      hard: [0, 72],
      optional: true,
      help: 'Leave this field empty if there is no built-in battery.',
    },
    travel: {
      kind: 'number',
      label: 'Hours to reach a place with power',
      unit: 'h',
      accepts: ['min'],
      plausible: [0, 12],
      hard: [0, 72],
      optional: true,
      help: 'The place with power can be home, a hospital, or the home of someone who has agreed to take you in. Include loading and stairs.',
    },
  },
  formulas: { toCover, available, batteriesNeeded, difference, leaveBy },
  results: {
    batteriesNeeded: { label: 'Batteries needed', unit: '{count}', decimals: 0, plausible: [0, 20], main: true },
    spare: { label: 'Hours over or short, with the margin', unit: 'h', decimals: 1, plausible: [-96, 120], main: true },
    leaveBy: {
      label: 'Latest time to leave for a place with power, after the start',
      unit: 'h',
      decimals: 1,
      plausible: [0, 96],
      main: true,
    },
    toCover: { label: 'Hours to cover with the margin', unit: 'h', decimals: 1, plausible: [0, 150] },
    available: { label: 'Hours available', unit: 'h', decimals: 1, plausible: [0, 150] },
  },
  holds: {
    population: 'one ventilator on batteries',
    notFor: 'planning an oxygen supply; trips on which batteries are charged on the way',
  },
  before: [
    'If the ventilator stops and the person cannot breathe well without it, ventilate by hand and call emergency services. The calculation can wait.',
  ],
  cautions: [
    'When in doubt, leave earlier than the calculated time, because a battery can fail and a road can close. The calculated hours are a limit, not a target.',
    'The suction machine, cough machine and humidifier also need power, and are not counted here.',
    'Always carry the resuscitation bag and mask, however many batteries you take. Airlines approve each battery and device beforehand, so ask the airline for approval weeks before the flight.',
    'If the written power-cut plan or the ventilation service says otherwise, follow them.',
  ],
  citations: [
    {
      cite: 'Enough battery for 1.5 to 2 times the flight time',
      locator: 'common practice, from memory; we found no published number',
      standing: 'from-memory',
    },
    {
      cite: 'NICE NG42',
      locator: 'power and back-up are part of the risk check before NIV; no hours given',
      standing: 'checked',
    },
    {
      cite: 'German S2 guideline on home ventilation, December 2009 (superseded)',
      locator: 'a second ventilator and an external battery of 8 to 10 h when use is above 16 h a day',
      standing: 'checked',
    },
    {
      cite: 'US expert panel. Chest 2021;160:e399-e408',
      locator: 'abstract: a second ventilator when use is above 18 h a day',
      standing: 'checked',
    },
  ],
  compute: ({ needed, margin, each, batteries, builtIn: typedBuiltIn, travel }, step) => {
    if (!Number.isInteger(batteries))
      return refuse('batteries', `Batteries are counted whole. Is ${batteries} in hours?`);
    const builtIn = typedBuiltIn ?? 0;
    const cover = step(toCover, { needed, margin });
    const atHand = step(available, { builtIn, batteries, each });
    const spare = step(difference, { available: atHand, cover });
    const latest = travel === undefined ? undefined : step(leaveBy, { available: atHand, margin, travel });
    return {
      results: {
        batteriesNeeded: { value: step(batteriesNeeded, { cover, builtIn, each }) },
        spare: { value: spare },
        ...(latest === undefined || latest < 0 ? {} : { leaveBy: { value: latest } }),
        toCover: { value: cover },
        available: { value: atHand },
      },
      cautions: [
        ...(latest !== undefined && latest < 0
          ? [
              'With this margin the charged batteries do not even cover the journey to a place with power. In a power cut, start the power-cut plan now. For a trip, do not set off with these batteries.',
            ]
          : []),
        ...(spare < 0 ? [`The batteries are ${show(-spare, 'h', 1)} short with this margin.`] : []),
      ],
    };
  },
});
