/**
 * Share of the upright vital capacity lost on lying flat.
 *
 *   fall = (upright - supine) / upright x 100
 *
 * Sitting, gravity pulls the belly down and helps the diaphragm. Flat, the diaphragm must push the belly away by
 * itself: a strong one loses little, a weak one loses much. The fall is negative when the lying value is the larger,
 * which is what to expect in high spinal cord injury, where a slack belly wall lets the diaphragm sag when upright.
 *
 * The criteria are printed beside the figure, but not in cord injury, where they do not apply.
 *
 * @source  Allen 1985 and Fromageot 2001, abstracts read; the cord-injury direction from memory
 */
import { type ChoiceField, type Citation, defineCalculator, formula } from '../calculator.ts';
import type { ResultTable } from '../outcome.ts';
import { supineVitalCapacity, uprightVitalCapacity } from './shared-fields.ts';

const fall = formula({
  result: 'fall',
  unit: '',
  text: '(upright - supine) / upright * 100',
  symbols: {
    upright: { means: 'vital capacity upright', unit: 'L', range: [0.2, 8] },
    supine: { means: 'vital capacity lying flat', unit: 'L', range: [0.2, 8] },
  },
  run: ({ upright, supine }) => ((upright - supine) / upright) * 100,
});

const difference = formula({
  result: 'difference',
  unit: 'L',
  text: 'upright - supine',
  symbols: {
    upright: { means: 'vital capacity upright', unit: 'L', range: [0.2, 8] },
    supine: { means: 'vital capacity lying flat', unit: 'L', range: [0.2, 8] },
  },
  run: ({ upright, supine }) => upright - supine,
});

const cordInjury = {
  kind: 'choice',
  label: 'Spinal cord injury',
  options: [
    { value: 'no', label: 'No' },
    { value: 'yes', label: 'Yes' },
  ],
  optional: true,
  help: 'If the person has a spinal cord injury, the published figures for the fall in vital capacity on lying down are not shown, because they do not apply to cord injury.',
} as const satisfies ChoiceField;

/** What was measured, per cent of upright: mean, spread and upper 95 % limit. */
const published: ResultTable = {
  caption: 'Published falls, per cent of upright. Not for spinal cord injury',
  columns: ['Measured in', 'Fall'],
  rows: [
    {
      label: 'Healthy, 50 people (Allen 1985; standing to supine)',
      cells: ['mean 7.5 (SD 5.7), upper 95 % limit 19'],
    },
    { label: 'Restrictive defect, 47 people (Allen 1985)', cells: ['mean 8.2 (SD 7.7), upper 95 % limit 24'] },
    { label: 'Obstructive defect, 50 people (Allen 1985)', cells: ['mean 11.2 (SD 13.4), upper 95 % limit 38'] },
    {
      label: 'Neuromuscular disease, 24 people (Fromageot 2001; upright to supine)',
      cells: ['above 25: 79 % sensitive and 90 % specific for a weak diaphragm'],
    },
  ],
};

const citations: Citation[] = [
  {
    cite: 'Allen SM, et al. Br J Dis Chest 1985;79:267',
    locator: 'abstract: mean fall, spread and upper 95 % limit in three groups, standing to supine',
    standing: 'checked',
  },
  {
    cite: 'Fromageot C, et al. Arch Phys Med Rehabil 2001;82:123-128',
    locator:
      'abstract: for a fall above 25 %, sensitivity 79 % and specificity 90 %, 24 people with neuromuscular disease',
    standing: 'checked',
  },
  {
    cite: 'A larger vital capacity lying down in high spinal cord injury',
    locator: 'as is commonly taught',
    standing: 'from-memory',
  },
  {
    cite: 'How the test is done: one to two minutes lying flat before the test',
    locator: 'and stopping if the person is distressed',
    standing: 'from-memory',
  },
];

export default defineCalculator({
  id: 'supine-fall',
  title: 'Fall in vital capacity on lying flat',
  purpose:
    'Calculates the share of upright vital capacity that is lost on lying flat, and compares the loss with that of healthy people.',
  group: 'vital-capacity',
  keywords: [
    'supine fall',
    'postural drop',
    'supine FVC',
    'lying and sitting vital capacity',
    'diaphragm',
    'orthopnoea',
    'orthopnea',
  ],
  fields: { upright: uprightVitalCapacity, supine: supineVitalCapacity, cordInjury },
  formulas: { fall, difference },
  results: {
    fall: {
      label: 'Fall on lying flat, per cent of upright',
      unit: '%',
      decimals: 1,
      plausible: [-50, 90],
      main: true,
      measure: 'fvc-drop-supine-percent',
      help: 'A figure below zero means that the lying value is larger.',
    },
    difference: { label: 'Fall in litres', unit: 'L', decimals: 2, plausible: [-1.5, 5] },
  },
  holds: {
    population:
      'anyone who can do the test sitting and lying; the published figures for the fall come from small groups',
    posture: 'one reading sitting upright and one lying flat on the back, in the same session',
    notFor: 'comparing a person with a spinal cord injury with the published figures for the fall',
  },
  before: [
    'Never leave a person with orthopnoea alone while they lie flat. Have a helper and a way to sit the person up at once, and stop if breathing gets hard. Being unable to lie flat is itself a finding: write it down and tell the prescriber.',
  ],
  cautions: [
    'Take both readings in one session, by the same kind of test (forced or slow). A fall in vital capacity between tests on two different days is not a postural fall.',
    'A small fall does not rule out a weak diaphragm: in the one study of neuromuscular disease, vital capacity fell by 25 % or less in about a fifth of people with a weak diaphragm.',
    'A leak or a poor effort lying down looks like a postural fall in vital capacity. Repeat the test before you accept the fall.',
    'The postural fall is a percentage of the upright value, not a difference in per cent of predicted: from 60 to 45 % predicted is a fall of 25 %, not 15 %.',
    'The result is a finding, not a decision. The prescriber decides on tests and support with the person, under local policy.',
  ],
  citations,
  compute: ({ upright, supine, cordInjury }, step) => {
    const cautions: string[] = [];
    if (cordInjury === 'yes')
      cautions.push(
        'In high spinal cord injury the vital capacity is often larger lying down. The published figures for the fall are left out, because they do not apply.',
      );
    else if (supine > upright)
      cautions.push(
        'The lying value is larger. In high spinal cord injury a larger lying value is expected; otherwise repeat the upright reading.',
      );
    return {
      results: {
        fall: { value: step(fall, { upright, supine }) },
        difference: { value: step(difference, { upright, supine }) },
      },
      cautions,
      tables: cordInjury === 'yes' ? [] : [published],
    };
  },
});
