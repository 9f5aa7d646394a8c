/**
 * Cough flow and how full the chest is. Nothing that was read gives a flow for a volume, so no curve is drawn: the bars are
 * the published means by technique, and the gains come from the calculator.
 */
import coughGain from '../../../calculators/cough/cough-gain.ts';
import { show } from '../../../calculators/quantity.ts';
import { defineMoving } from './figure.ts';

const techniques = ['unassisted', 'manual', 'stacking', 'stackingAndManual', 'miE', 'miEAndManual'] as const;
type Technique = (typeof techniques)[number];

/** Means of the studies, from content/facts.yaml; the page hands them in. */
export interface CoughData {
  duchenne: Partial<Record<Technique, number>>;
  mixed: Partial<Record<Technique, number>>;
  /** sentences, with their sources, on what is known about filling the chest */
  known: readonly string[];
}

const names: Record<Technique, string> = {
  unassisted: 'Alone',
  manual: 'A thrust by hand',
  stacking: 'Chest filled first',
  stackingAndManual: 'Chest filled, and a thrust',
  miE: 'Machine',
  miEAndManual: 'Machine, and a thrust',
};

/** The calculator's own field for a technique; the machine with a thrust is entered as a flow on the machine. */
const fieldOf: Record<Exclude<Technique, 'unassisted'>, 'manual' | 'stacking' | 'stackingAndManual' | 'miE'> = {
  manual: 'manual',
  stacking: 'stacking',
  stackingAndManual: 'stackingAndManual',
  miE: 'miE',
  miEAndManual: 'miE',
};

const studies = {
  duchenne: 'twelve adults with Duchenne, Kikuchi 2018',
  mixed: 'people with several diseases, laboratory, Chatwin 2003',
} as const;

/** Gain over the unaided cough, in L/min and as a share of it, as the cough-gain calculator tells it. */
function gainOf(technique: Technique, helped: number, unassisted: number) {
  if (technique === 'unassisted') return undefined;
  const field = fieldOf[technique];
  const answer = coughGain.calculate({ unassisted, [field]: helped, state: 'stable', session: 'same' });
  if (!answer.ok) return undefined;
  const { [`${field}Gain`]: gain, [`${field}Percent`]: percent } = answer.results;
  return gain && percent ? { gain: gain.value, percent: percent.value } : undefined;
}

export const coughAndFilling = defineMoving({
  title: 'What fills the chest makes the cough',
  about:
    'Choose a published study and a kind of cough assistance. The cough flow is higher when the chest is filled first. Look at the gain from filling alone, and at the extra gain from a manual thrust.',
  controls: {
    study: {
      kind: 'choice',
      label: 'Study',
      options: [
        { value: 'duchenne', label: 'Duchenne, six ways' },
        { value: 'mixed', label: 'Several diseases, two ways' },
      ],
      initial: 'duchenne',
    },
    technique: {
      kind: 'choice',
      label: 'Way to help',
      options: techniques.map((value) => ({ value, label: names[value] })),
      initial: 'stacking',
    },
  },
  picture: ({ study, technique }, data: CoughData) => {
    const means = data[study];
    const alone = means.unassisted ?? 0;
    const shown = techniques.flatMap((one) => {
      const flow = means[one];
      return flow === undefined ? [] : [{ one, flow, gain: gainOf(one, flow, alone) }];
    });
    const chosen = shown.find(({ one }) => one === technique);
    return {
      draws: {
        kind: 'bars',
        bars: shown.map(({ one, flow }) => ({
          name: names[one],
          value: flow,
          words: show(flow, 'L/min', 0),
          chosen: one === technique,
        })),
      },
      table: {
        caption: `Mean peak cough flow: ${studies[study]}`,
        columns: ['Technique', 'Mean flow', 'Gain over unaided', 'Gain as a share of the unaided flow'],
        rows: shown.map(({ one, flow, gain }) => ({
          label: names[one],
          cells: [
            show(flow, 'L/min', 0),
            gain ? show(gain.gain, 'L/min', 0) : '\u2013',
            gain ? show(gain.percent, '%', 0) : '\u2013',
          ],
        })),
      },
      says:
        chosen === undefined
          ? `This study did not measure: ${names[technique].toLowerCase()}.`
          : chosen.gain === undefined
            ? `Without help the mean cough flow was ${show(alone, 'L/min', 0)}.`
            : `${names[technique]}: the mean cough flow was ${show(chosen.flow, 'L/min', 0)}, which is ${show(chosen.gain.gain, 'L/min', 0)} more than without help.`,
      notes: [
        'None of the published sources that we read gives the cough flow for each size of breath in litres, so no such curve is drawn here.',
        ...data.known,
        "Do not compare the means of one study with those of another: the people and the meters were different. A mean also says little about the person in front of you, so measure that person's own cough flow.",
      ],
    };
  },
});
