/**
 * What each technique adds to a person's cough.
 *
 *   gain = helped flow - own flow            gain % = 100 x gain / own flow
 *
 * Teaching a technique is worth the effort when it moves air, and this shows how much it moved on the day.
 * A gain is a difference of two readings: it means something only when the two were taken in the same state,
 * with the same meter and coaching, so the page asks for that and says when it is missing.
 *
 * The unassisted flow is the base. Without it the first helped flow becomes the base, and the page says that
 * such gains are not the ones that studies report.
 *
 * @refuses  fewer than two flows; each flow as `peak-cough-flow` does
 * @source   arithmetic; published gains: Chatwin 2003 and Sivasothy 2001 (abstracts read)
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { show, showNumber } from '../quantity.ts';
import { standingWords } from '../standing.ts';
import { coughFlow, emergency, type Technique, techniques } from './shared-fields.ts';

const symbols = {
  helped: { means: 'flow with the technique', unit: 'L/minute', range: [20, 1200] },
  base: { means: 'flow it is compared with', unit: 'L/minute', range: [20, 1200] },
} as const;

const gain = formula({
  result: 'gain',
  unit: 'L/minute',
  text: 'helped - base',
  symbols,
  run: ({ helped, base }) => helped - base,
});

const percent = formula({
  result: 'gainPercent',
  unit: '',
  text: '100 * (helped - base) / base',
  symbols,
  run: ({ helped, base }) => (100 * (helped - base)) / base,
});

const citations: Citation[] = [
  { cite: 'Difference of two flows', locator: 'arithmetic', standing: 'checked' },
  {
    cite: 'Chatwin M, Ross E, Hart N, Nickol AH, Polkey MI, Simonds AK. Eur Respir J 2003;21:502-508',
    locator:
      'abstract: in 22 people aged 10 to 56, mean cough flow was 169 L/min (SD 90) unassisted and 235 L/min (SD 111) on MI-E',
    standing: 'checked',
  },
  {
    cite: 'Sivasothy P, Brown L, Smith IE, Shneerson JM. Thorax 2001;56:438-444',
    locator: 'abstract: median gains with manual assist, alone and with mechanical insufflation',
    standing: 'checked',
  },
  {
    cite: 'Andersen T, et al. Thorax 2017;72:221',
    locator: 'abstract: the larynx can close during MI-E in ALS',
    standing: 'checked',
  },
];

const field = { ...coughFlow, optional: true } as const;

export default defineCalculator({
  id: 'cough-gain',
  title: 'What each technique adds to a cough',
  purpose:
    'Shows how far breath stacking, manually assisted cough and MI-E raised the cough flow above the unassisted flow.',
  group: 'cough',
  keywords: [
    'assisted cough',
    'breath stacking',
    'lung volume recruitment',
    'LVR',
    'manual assist',
    'MI-E',
    'gain',
    'cough augmentation',
  ],
  fields: {
    unassisted: {
      ...field,
      label: 'Unassisted flow',
      help: 'Enter the best of three or more unassisted coughs, before any technique is used.',
    },
    stacking: { ...field, label: 'Flow after breath stacking' },
    manual: { ...field, label: 'Flow with manual assist' },
    stackingAndManual: { ...field, label: 'Flow after stacking, with manual assist' },
    miE: { ...field, label: 'Flow on MI-E' },
    state: {
      kind: 'choice',
      label: 'When the flows were measured',
      options: [
        { value: 'stable', label: 'All when stable' },
        { value: 'infection', label: 'All during a chest infection' },
        { value: 'mixed', label: 'Some stable, some during an infection' },
      ],
      optional: true,
    },
    session: {
      kind: 'choice',
      label: 'How they were measured',
      options: [
        { value: 'same', label: 'One session, one meter' },
        { value: 'different', label: 'Different sessions or meters' },
      ],
      optional: true,
    },
  },
  formulas: { gain, percent },
  results: {
    stackingGain: {
      label: 'Gain after breath stacking',
      unit: 'L/min',
      decimals: 0,
      plausible: [-300, 600],
      main: true,
    },
    stackingPercent: {
      label: 'Gain after breath stacking, as a share of the starting flow',
      unit: '%',
      decimals: 0,
      plausible: [-80, 1000],
    },
    manualGain: { label: 'Gain with manual assist', unit: 'L/min', decimals: 0, plausible: [-300, 600], main: true },
    manualPercent: {
      label: 'Gain with manual assist, as a share of the starting flow',
      unit: '%',
      decimals: 0,
      plausible: [-80, 1000],
    },
    stackingAndManualGain: {
      label: 'Gain after stacking, with manual assist',
      unit: 'L/min',
      decimals: 0,
      plausible: [-300, 600],
      main: true,
    },
    stackingAndManualPercent: {
      label: 'Gain after stacking, with manual assist, as a share of the starting flow',
      unit: '%',
      decimals: 0,
      plausible: [-80, 1000],
    },
    miEGain: { label: 'Gain on MI-E', unit: 'L/min', decimals: 0, plausible: [-300, 600], main: true },
    miEPercent: {
      label: 'Gain on MI-E, as a share of the starting flow',
      unit: '%',
      decimals: 0,
      plausible: [-80, 1000],
    },
  },
  holds: {
    population: 'anyone whose cough flow can be measured with and without help',
    notFor:
      'comparing one person with another; comparing a flow when stable with a flow during an infection; comparing flows from different meters',
  },
  before: [emergency],
  cautions: [
    'Do not count a gain that is smaller than the spread of this person\u2019s own best three tries (common practice).',
    'A larger cough flow does not mean that the chest is clear. Listen to the chest, look at the sputum that came up, and check the saturation.',
    'Do not use a technique for the first time, or choose any pressure, without an order and without the team that teaches the technique.',
  ],
  citations,
  compute: (inputs, step) => {
    const flows: { technique: Technique; flow: number }[] = [];
    for (const [technique, flow] of Object.entries(flowsOf(inputs)) as [Technique, number | undefined][])
      if (flow !== undefined) flows.push({ technique, flow });
    const [base, ...helped] = flows;
    if (base === undefined || helped.length === 0)
      return refuse(
        base?.technique === 'unassisted' ? 'stacking' : 'unassisted',
        'Enter at least two flows: the unassisted cough and one with help',
      );
    const results: Partial<Record<`${GainName}Gain` | `${GainName}Percent`, { value: number }>> = {};
    for (const { technique, flow } of helped) {
      if (technique === 'unassisted') continue;
      const values = { helped: flow, base: base.flow };
      results[`${gainNames[technique]}Gain`] = { value: step(gain, values) };
      results[`${gainNames[technique]}Percent`] = { value: step(percent, values) };
    }
    return {
      results,
      cautions: [
        ...aboutBase(base.technique),
        ...aboutMixing(inputs.state, inputs.session),
        ...helped.flatMap(({ technique, flow }) => aboutFall(technique, flow, base.flow)),
        ...(inputs.miE === undefined
          ? []
          : [
              'Flow on MI-E is measured during exsufflation. It is not the person\u2019s own cough, and often comes from another meter.',
            ]),
      ],
      tables: [sideBySide(flows, base), published],
    };
  },
});

const gainNames = {
  stacking: 'stacking',
  manual: 'manual',
  'stacking-and-manual': 'stackingAndManual',
  'mi-e': 'miE',
} as const;
type GainName = (typeof gainNames)[keyof typeof gainNames];

/** In the order in which techniques are tried, so that the first one present is the base. */
const flowsOf = (inputs: {
  unassisted: number | undefined;
  stacking: number | undefined;
  manual: number | undefined;
  stackingAndManual: number | undefined;
  miE: number | undefined;
}): Record<Technique, number | undefined> => ({
  unassisted: inputs.unassisted,
  stacking: inputs.stacking,
  manual: inputs.manual,
  'stacking-and-manual': inputs.stackingAndManual,
  'mi-e': inputs.miE,
});

const aboutBase = (base: Technique): string[] =>
  base === 'unassisted'
    ? []
    : [
        `No unassisted flow was given. The gains are measured from the flow ${techniques[base]}, not from the person\u2019s own cough, so do not compare them with published gains.`,
      ];

function aboutMixing(state?: 'stable' | 'infection' | 'mixed', session?: 'same' | 'different'): string[] {
  const cautions: string[] = [];
  if (state === 'mixed')
    cautions.push(
      'Some flows are from a stable state and some from an infection, so the difference is due to the illness as well as the technique.',
    );
  if (state === undefined)
    cautions.push(
      'It was not recorded whether the person was stable or had an infection. If the flows come from both states, the gains mean nothing.',
    );
  if (session === 'different')
    cautions.push(
      'The flows come from different sessions or meters, and a difference between meters can look like a gain.',
    );
  if (session === undefined) cautions.push('It was not recorded whether one meter and one session were used.');
  return cautions;
}

const aboutFall = (technique: Technique, flow: number, base: number): string[] =>
  flow > base
    ? []
    : [
        `The flow ${techniques[technique]} is no higher than the flow it is compared with. Check the seal, timing and position${
          technique === 'mi-e' ? '; in ALS the larynx can close on MI-E' : ''
        }.`,
      ];

const sideBySide = (
  flows: readonly { technique: Technique; flow: number }[],
  base: { technique: Technique; flow: number },
): ResultTable => ({
  caption: 'The flows compared',
  columns: ['Cough', 'L/min', 'L/s', 'Gain', 'Share of the base'],
  rows: flows.map(({ technique, flow }) => ({
    label: `${techniques[technique][0]?.toUpperCase()}${techniques[technique].slice(1)}`,
    cells: [
      showNumber(flow, 0),
      showNumber(flow / 60, 2),
      technique === base.technique ? 'the base' : show(flow - base.flow, 'L/min', 0),
      technique === base.technique ? '' : show((100 * (flow - base.flow)) / base.flow, '%', 0),
    ],
  })),
});

const published: ResultTable = {
  caption: 'Gains in studies, each compared with the unassisted cough of the same people. They are not targets',
  columns: ['Study', 'Gain', 'People', 'Standing'],
  rows: [
    {
      label: 'MI-E (Chatwin 2003)',
      cells: ['mean 169 to 235 L/min', '22 people with neuromuscular weakness, 10 to 56 years', standingWords.checked],
    },
    {
      label: 'Manual assist (Sivasothy 2001)',
      cells: ['median 84 L/min (19 to 122)', '8 people with weakness, no scoliosis', standingWords.checked],
    },
    {
      label: 'Manual assist with mechanical insufflation (Sivasothy 2001)',
      cells: ['median 144 L/min (14 to 195)', '8 people with weakness, no scoliosis', standingWords.checked],
    },
    {
      label: 'Either, alone or together (Sivasothy 2001)',
      cells: ['none found', '4 people with weakness and scoliosis', standingWords.checked],
    },
    {
      label: 'Manual assist in COPD (Sivasothy 2001)',
      cells: ['a fall, median 144 L/min', '8 people with COPD', standingWords.checked],
    },
  ],
};
