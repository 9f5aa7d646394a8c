/**
 * What a set oxygen flow is said to give, and what it gives this breath.
 *
 *   cannula    FiO2 = 20 + 4 x flow                          per cent, 1 to 6 L/min, a convention
 *   masks      published ranges over the flows they need
 *   Venturi    the percent on the valve; total = flow x (1 + air : oxygen)
 *   any breath FiO2 = 21 + (100 - 21) x flow / inspiratory flow
 *
 * The published figure knows the device and not the person. A weak person who breathes shallowly draws in
 * little air, so that the same flow gives a stronger mixture, a better saturation and no more ventilation.
 * The two answers are therefore shown side by side: the gap between them is the lesson.
 *
 * The page cannot be used backwards: a wanted FiO2 is not an input, and a flow is never an answer.
 *
 * @refuses  children; a flow outside the published range of the interface; a Venturi valve without its percent
 * @source   cannula rule: a convention read in a teaching page; measured spread: Wettstein 2005 (abstract)
 */

import { age } from '../body-size/shared-fields.ts';
import { type Citation, defineCalculator, type Formula, formula } from '../calculator.ts';
import { isChild } from '../domain/age-and-sex.ts';
import { type Refusal, type ResultTable, refuse } from '../outcome.ts';
import { showNumber } from '../quantity.ts';
import { standingWords } from '../standing.ts';
import { before, hypoventilation } from './before.ts';
import { flowRange, type Interface, maskRange, quoted, type VenturiPercent } from './interfaces.ts';
import { mix } from './mixing.ts';
import { ratio, tooLittleForValve, total, venturiPercent } from './venturi-formulas.ts';

export const cannula = formula({
  result: 'fio2',
  unit: '',
  text: '20 + 4 * oxygenFlow',
  withUnits: '20 + 4 minute/L * oxygenFlow',
  symbols: { oxygenFlow: { means: 'oxygen flow to the cannula', unit: 'L/minute', range: [1, 6] } },
  run: ({ oxygenFlow }) => 20 + 4 * oxygenFlow,
});

const meanInspiratoryFlow = formula({
  result: 'inspiratoryFlow',
  unit: 'L/minute',
  text: '0.06 * tidalVolume / inspiratoryTime',
  withUnits: 'tidalVolume / inspiratoryTime',
  symbols: {
    tidalVolume: { means: 'tidal volume', unit: 'mL', range: [50, 1500] },
    inspiratoryTime: { means: 'time to breathe in', unit: 's', range: [0.4, 3] },
  },
  run: ({ tidalVolume, inspiratoryTime }) => (0.06 * tidalVolume) / inspiratoryTime,
});

/** Oxygen that collects in nose and throat in the pause before a breath, mL: the usual textbook assumption, from memory. */
const waiting = 50;

const withWaiting = formula({
  result: 'fio2',
  unit: '',
  text: '21 + 79 * (50 + oxygenFlow * inspiratoryTime / 0.06) / tidalVolume',
  withUnits: '21 + 79 * (50 mL + oxygenFlow * inspiratoryTime) / tidalVolume',
  symbols: {
    oxygenFlow: { means: 'oxygen flow', unit: 'L/minute', range: [1, 6] },
    inspiratoryTime: { means: 'time to breathe in', unit: 's', range: [0.4, 3] },
    tidalVolume: { means: 'tidal volume', unit: 'mL', range: [50, 1500] },
  },
  run: ({ oxygenFlow, inspiratoryTime, tidalVolume }) =>
    21 + (79 * (waiting + (oxygenFlow * inspiratoryTime) / 0.06)) / tidalVolume,
});

const citations: Citation[] = [
  ...hypoventilation,
  {
    cite: 'Cannula rule, 24, 28, 32, 36, 40 and 44 % for 1 to 6 L/min',
    locator: 'a respiratory-care teaching page, which also says never to go above 6 L/min',
    standing: 'checked-in-summary',
    note: 'The cannula rule is a convention, not a measurement. The straight-line interpolation between whole litres per minute is our own addition.',
  },
  {
    cite: 'Wettstein RB, Shelledy DC, Peters JI. Respir Care 2005;50:604-609',
    locator: 'abstract: FiO2 measured in 10 healthy adults on a cannula at 1 to 6 L/min',
    standing: 'checked',
  },
  {
    cite: 'Katz I, et al. Respir Res 2019;20:149',
    locator:
      'abstract: FiO2 of 30.2 to 48.0 % at the same oxygen flow, depending on the breathing pattern, in an airway model',
    standing: 'checked',
  },
  {
    cite: 'O\u2019Driscoll BR, et al. BTS oxygen guideline. Thorax 2017;72 Suppl 1',
    locator: 'summary: interface ranges; rebreathing on a simple mask below 5 L/min',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Australian therapeutic guideline text on oxygen delivery',
    locator: 'cannula 1 to 4 L/min, simple mask 5 to 10 L/min, reservoir mask 15 L/min',
    standing: 'checked',
  },
  {
    cite: 'Venturi valves, percent and oxygen flow',
    locator: 'two open medical teaching pages; ratio and total flow are arithmetic',
    standing: 'checked-in-summary',
  },
  {
    cite: 'Tracheostomy mask, 35 to 60 % at 5 to 10 L/min; 50 mL of oxygen stored in nose and throat',
    locator: 'from memory; the source was not read',
    standing: 'from-memory',
  },
];

const numberOf = { kind: 'number', optional: true } as const;

export default defineCalculator({
  id: 'oxygen-flow-to-fio2',
  title: 'What an oxygen flow gives',
  purpose:
    'Shows the published FiO2 for an oxygen flow and interface, and how much the FiO2 changes with the person\u2019s breathing.',
  group: 'oxygen',
  keywords: [
    'FiO2',
    'oxygen flow',
    'nasal cannula',
    'nasal prongs',
    'simple mask',
    'reservoir mask',
    'non-rebreathing',
    'Venturi',
    'tracheostomy mask',
    'litres per minute',
  ],
  fields: {
    interface: {
      kind: 'choice',
      label: 'Interface',
      options: [
        { value: 'cannula', label: 'Nasal cannula' },
        { value: 'simple-mask', label: 'Simple mask' },
        { value: 'reservoir-mask', label: 'Reservoir (non-rebreathing) mask' },
        { value: 'venturi', label: 'Venturi valve' },
        { value: 'tracheostomy-mask', label: 'Tracheostomy mask' },
      ],
    },
    flow: {
      kind: 'number',
      label: 'Oxygen flow',
      unit: 'L/min',
      accepts: ['mL/min'],
      plausible: [0.5, 15],
      hard: [0, 70],
      lowInclusive: false,
      help: 'Enter the oxygen flow that is prescribed and set now.',
    },
    percent: { ...venturiPercent, optional: true },
    tidalVolume: {
      ...numberOf,
      label: 'Tidal volume (size of the breath)',
      unit: 'mL',
      accepts: ['L'],
      plausible: [150, 1000],
      hard: [50, 3000],
      help: 'The tidal volume shows how this person’s breathing changes the FiO2. If you enter no tidal volume, only the published FiO2 is shown.',
    },
    inspiratoryTime: {
      ...numberOf,
      label: 'Time to breathe in',
      unit: 's',
      plausible: [0.5, 2],
      hard: [0.2, 5],
    },
    inspiratoryFlow: {
      ...numberOf,
      label: 'Mean inspiratory flow',
      unit: 'L/min',
      accepts: ['L/s'],
      plausible: [8, 80],
      hard: [3, 200],
      help: 'If you know the peak inspiratory flow, enter it instead of the tidal volume and inspiratory time.',
    },
    age: {
      ...age,
      optional: true,
      help: 'The age is used only to check that the person is an adult, because the published figures are for adults.',
    },
  },
  formulas: { cannula, ratio, total, meanInspiratoryFlow, mix, withWaiting },
  results: {
    fio2: { label: 'FiO2 by the published figure', unit: '%', decimals: 0, plausible: [21, 100], main: true },
    fio2Unchecked: { label: 'FiO2, not yet checked', unit: '%', decimals: 0, plausible: [21, 100] },
    totalFlow: { label: 'Total flow from the valve', unit: 'L/min', decimals: 1, plausible: [2, 250] },
    inspiratoryFlow: { label: 'Mean inspiratory flow of this breath', unit: 'L/min', decimals: 1, plausible: [5, 120] },
    estimate: {
      label: 'FiO2 if the oxygen simply mixes with this breath',
      unit: '%',
      decimals: 0,
      plausible: [20, 97],
      main: true,
    },
    withWaiting: {
      label: 'The same, with 50 mL of oxygen stored in nose and throat',
      unit: '%',
      decimals: 0,
      plausible: [20, 97],
      help: 'The 50 mL is from memory.',
    },
  },
  holds: {
    population: 'adults who are breathing spontaneously',
    ages: '18 years and over',
    notFor:
      'setting a flow; children; oxygen given with NIV; high-flow systems; pulse (on-demand) devices; a cannula below 1 or above 6 L/min',
  },
  before,
  cautions: [
    'Do not work backwards on this page to choose a flow for a target FiO2. The prescriber decides the oxygen flow, and its effect is judged by saturation and carbon dioxide.',
    'No figure here was measured on this person. The breathing pattern changes FiO2: at the same oxygen flow, FiO2 is higher with shallow breathing and lower with heavy breathing.',
    'More oxygen does not give more ventilation. Increasing sleepiness on oxygen is a danger sign at any saturation.',
  ],
  citations,
  compute: (inputs, step) => {
    const { interface: device, flow, percent } = inputs;
    if (inputs.age !== undefined && isChild(inputs.age))
      return refuse('age', 'These figures are for adults aged 18 and over. Ask the paediatric team for a child');
    const outside = device === 'venturi' ? outsideValve(flow) : outsideRange(device, flow);
    if (outside) return outside;
    const breath = breathOf(inputs);
    if ('problems' in breath) return breath;

    const published = device === 'venturi' ? valveFigure(flow, percent, step) : publishedFigure(device, flow, step);
    if ('problems' in published) return published;
    const own = inThisBreath(device, flow, published.results.totalFlow?.value ?? 0, breath, step);
    return {
      results: { ...published.results, ...own.results },
      cautions: [...published.cautions, ...own.cautions],
      tables: tablesFor(device, flow),
    };
  },
});

type Step = <V extends string>(formula: Formula<V>, values: Record<V, number>) => number;
type ResultName = 'fio2' | 'fio2Unchecked' | 'totalFlow' | 'inspiratoryFlow' | 'estimate' | 'withWaiting';
interface Part {
  results: Partial<Record<ResultName, { value: number; low?: number; high?: number }>>;
  cautions: readonly string[];
}

function valveFigure(flow: number, percent: VenturiPercent | undefined, step: Step): Part | Refusal {
  if (percent === undefined) return refuse('percent', 'Choose the percentage printed on the Venturi valve');
  const airToOxygen = step(ratio, { percent: Number(percent) });
  return {
    results: {
      fio2: { value: Number(percent) },
      totalFlow: { value: step(total, { oxygenFlow: flow, airToOxygen }) },
    },
    cautions: tooLittleForValve(flow, percent),
  };
}

/** What is written about the device, whoever wears it. */
function publishedFigure(device: Exclude<Interface, 'venturi'>, flow: number, step: Step): Part {
  if (device === 'cannula')
    return {
      results: { fio2: { value: step(cannula, { oxygenFlow: flow }) } },
      cautions: Number.isInteger(flow)
        ? []
        : ['The rule is published for whole litres. Between whole litres we use a straight line.'],
    };
  const [low, high] = maskRange[device];
  const range = { value: low, low, high };
  return {
    results: device === 'tracheostomy-mask' ? { fio2Unchecked: range } : { fio2: range },
    cautions: aboutMask[device],
  };
}

/** What the same flow comes to in one person's breath. @param fromValve total flow of a Venturi valve, L/min, else 0 */
function inThisBreath(device: Interface, flow: number, fromValve: number, breath: Breath, step: Step): Part {
  if (breath.kind === 'unknown') return { results: {}, cautions: [] };
  const inspiratoryFlow = breath.kind === 'flow' ? breath.inspiratoryFlow : step(meanInspiratoryFlow, breath.of);
  const results: Part['results'] = { inspiratoryFlow: { value: inspiratoryFlow } };
  const cautions = breath.kind === 'flow' ? breath.cautions : [];
  if (device === 'reservoir-mask')
    return {
      results,
      cautions: [...cautions, 'There is no calculation for a reservoir mask, because the oxygen comes from the bag.'],
    };
  if (flow > inspiratoryFlow)
    return {
      results,
      cautions: [
        ...cautions,
        'The oxygen flow is larger than the inspiratory flow of this breath, so the calculation does not apply. The mixture is close to pure oxygen.',
      ],
    };
  // What a Venturi valve gives beyond the breath is spilled; only a breath larger than that draws in more air.
  const totalFlow = Math.max(inspiratoryFlow, fromValve);
  results.estimate = { value: step(mix, { purity: 100, oxygenFlow: flow, totalFlow }) };
  if (device === 'cannula' && breath.kind === 'breath')
    results.withWaiting = { value: Math.min(100, step(withWaiting, { oxygenFlow: flow, ...breath.of })) };
  return {
    results,
    cautions: [
      ...cautions,
      'The calculation assumes pure oxygen. A concentrator gives about 93 %, so the result is a little lower. The published figure ignores this breath; the calculation uses this breath alone.',
    ],
  };
}

const shown = (flow: number) => `${Number(flow.toPrecision(4))} L/min`;

/** Nothing is extended past the published flows: each refusal says what happens there instead. */
function outsideRange(device: Exclude<Interface, 'venturi'>, flow: number): Refusal | undefined {
  const [low, high] = flowRange[device];
  if (flow < low) return refuse('flow', `${rangeText[device]} ${shown(flow)} is below that. ${tooLow[device]}`);
  if (flow > high) return refuse('flow', `${rangeText[device]} ${shown(flow)} is above that. ${tooHigh[device]}`);
  return undefined;
}

const outsideValve = (flow: number): Refusal | undefined =>
  flow < 1 || flow > 15
    ? refuse('flow', `A Venturi valve is run at 1 to 15 L/min of oxygen. ${shown(flow)} is outside that`)
    : undefined;

const rangeText = {
  cannula: 'The cannula rule runs from 1 to 6 L/min.',
  'simple-mask': 'A simple mask is run at 5 to 10 L/min.',
  'reservoir-mask': 'A reservoir mask is run at 10 to 15 L/min.',
  'tracheostomy-mask': 'From memory, a tracheostomy mask is used at 5 to 10 L/min.',
} as const;

const tooLow = {
  cannula: 'No FiO2 is published for that flow, and a small flow is not harmless',
  'simple-mask': 'At that flow exhaled air stays in the mask and carbon dioxide is rebreathed',
  'reservoir-mask': 'At that flow the bag can collapse and carbon dioxide is rebreathed',
  'tracheostomy-mask': 'No FiO2 is given for that flow',
} as const;

const tooHigh = {
  cannula: 'Is this a high-flow system? Those systems have their own figures',
  'simple-mask': 'Is another interface in use?',
  'reservoir-mask': 'No FiO2 is given for that flow',
  'tracheostomy-mask': 'No FiO2 is given for that flow',
} as const;

const aboutMask = {
  'simple-mask': [
    'Texts disagree: 35 to 50, 35 to 60 or 40 to 60 %, all at 5 to 10 L/min. Below 5 L/min carbon dioxide is rebreathed.',
    'A mask over a mouth full of saliva or vomit is dangerous for someone who cannot take it off.',
  ],
  'reservoir-mask': [
    'The bag must stay at least one third full while the person breathes in (not yet checked).',
    'A mask over a mouth full of saliva or vomit is dangerous for someone who cannot take it off.',
  ],
  'tracheostomy-mask': ['The range for a tracheostomy mask is not yet checked: read a source before relying on it.'],
} as const;

type Breath =
  | { kind: 'unknown' }
  | { kind: 'flow'; inspiratoryFlow: number; cautions: string[] }
  | { kind: 'breath'; of: { tidalVolume: number; inspiratoryTime: number } };

function breathOf(inputs: {
  tidalVolume: number | undefined;
  inspiratoryTime: number | undefined;
  inspiratoryFlow: number | undefined;
}): Breath | Refusal {
  const { tidalVolume, inspiratoryTime, inspiratoryFlow } = inputs;
  if (inspiratoryFlow !== undefined)
    return {
      kind: 'flow',
      inspiratoryFlow,
      cautions:
        tidalVolume === undefined && inspiratoryTime === undefined
          ? []
          : ['The inspiratory flow you typed is used. The size and time of the breath are ignored.'],
    };
  if (tidalVolume !== undefined && inspiratoryTime !== undefined)
    return { kind: 'breath', of: { tidalVolume, inspiratoryTime } };
  if (tidalVolume !== undefined)
    return refuse('inspiratoryTime', 'Enter the time to breathe in, to go with the tidal volume');
  if (inspiratoryTime !== undefined)
    return refuse('tidalVolume', 'Enter the tidal volume, to go with the time to breathe in');
  return { kind: 'unknown' };
}

/** Breaths made up for comparison. The middle one is the breath that the cannula rule assumes. */
const breaths = [
  { label: 'Shallow: 250 mL in 1 s', tidalVolume: 250, inspiratoryTime: 1 },
  { label: 'The breath the rule assumes: 500 mL in 1 s', tidalVolume: 500, inspiratoryTime: 1 },
  { label: 'Heavy: 800 mL in 0.8 s', tidalVolume: 800, inspiratoryTime: 0.8 },
] as const;

function tablesFor(device: Interface, flow: number): ResultTable[] {
  const tables: ResultTable[] = [];
  if (device === 'cannula')
    tables.push({
      caption: `${shown(flow)} in three example breaths: the same flow, three mixtures`,
      columns: ['Breath', 'Inspiratory flow', 'Simply mixed', 'With 50 mL stored (not yet checked)'],
      rows: breaths.map(({ label, ...breath }) => {
        const inspiratoryFlow = meanInspiratoryFlow.run(breath);
        return {
          label,
          cells: [
            `${showNumber(inspiratoryFlow, 0)} L/min`,
            `${showNumber(mix.run({ purity: 100, oxygenFlow: flow, totalFlow: inspiratoryFlow }), 0)} %`,
            `${showNumber(Math.min(100, withWaiting.run({ oxygenFlow: flow, ...breath })), 0)} %`,
          ],
        };
      }),
    });
  if (quoted[device].length > 0)
    tables.push({
      caption: 'What is written about this interface',
      columns: ['Text', 'Oxygen flow, L/min', 'FiO2, %', 'Standing'],
      rows: quoted[device].map(({ text, flow, fio2, standing }) => ({
        label: text,
        cells: [flow, fio2, standingWords[standing]],
      })),
    });
  return tables;
}
