/** Predicted vital capacity against age or height, one line a reference set. */
import { personOfSex, type Sex, sexOptions } from '../../../calculators/domain/age-and-sex.ts';
import type { ResultTable } from '../../../calculators/outcome.ts';
import { show } from '../../../calculators/quantity.ts';
import { lowerLimitOf } from '../../../calculators/spirometry/expected.ts';
import { type Group, groupNames, type ReferenceSet } from '../../../calculators/spirometry/reference-set.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import { along, defineMoving, type Line, type Look, type Plot, upTo } from './figure.ts';

const groups = Object.entries(groupNames) as [Group, string][];
const looks: Look[] = ['main', 'dashed', 'dotted', 'long'];
const sets: readonly ReferenceSet[] = Object.values(forcedSets);

/** What the reader has chosen. */
interface Chosen {
  sex: Sex;
  /** what runs across the picture; the other of the two stays at its slider's value */
  across: 'age' | 'height';
  /** years */
  age: number;
  /** cm */
  height: number;
  /** empty where none is chosen: the sets that publish groups then expect nothing */
  group: Group | '';
}

/** What a set expects of this person, or why it expects nothing. */
type Expected = ReturnType<ReferenceSet['expected']>;
interface SetNow {
  set: ReferenceSet;
  expected: Expected;
}

/** @param x  an age in years or a height in cm, in place of the one chosen, by what runs across the picture */
const expectedBy = (set: ReferenceSet, { sex, across, age, height, group }: Chosen, x?: number): Expected =>
  set.expected('FVC', {
    sex,
    age: across === 'age' ? (x ?? age) : age,
    height: across === 'height' ? (x ?? height) : height,
    group: set.groups.length === 0 || group === '' ? undefined : group,
  });

/** `from` and `step`: where a line begins, and how far apart its points are. */
const axes = {
  age: { label: 'Age, years', low: 0, high: 90, every: 10, from: 3, step: 1 },
  height: { label: 'Height, cm', low: 110, high: 200, every: 10, from: 110, step: 2 },
} as const;

/** One line for each set that expects something of this person anywhere on the axis. */
function linesOf(chosen: Chosen): Line[] {
  const axis = axes[chosen.across];
  return sets
    .map((set, place): Line => {
      const points = along(axis.from, axis.high, axis.step).map((x) => {
        const expected = expectedBy(set, chosen, x);
        return 'problems' in expected ? null : ([x, expected.predicted] as const);
      });
      return { name: set.name, look: looks[place] ?? 'thin', points };
    })
    .filter(({ points }) => points.some((point) => point !== null));
}

function plotOf(chosen: Chosen, now: readonly SetNow[], here: number): Plot {
  const lines = linesOf(chosen);
  const highest = Math.max(...lines.flatMap(({ points }) => points.map((point) => point?.[1] ?? 0)));
  return {
    x: axes[chosen.across],
    y: { label: 'predicted vital capacity, litres', low: 0, high: upTo(highest, 1), every: 1 },
    lines,
    rules: [{ across: 'x', at: here, name: chosen.across === 'age' ? 'this age' : 'this height' }],
    dots: now.flatMap(({ expected }) =>
      'problems' in expected ? [] : [{ at: [here, expected.predicted] as const, look: 'hand' as const }],
    ),
  };
}

const tableOf = ({ sex, age, height, group }: Chosen, now: readonly SetNow[]): ResultTable => ({
  caption: `${personOfSex[sex]}, ${show(age, 'a', 0)}, ${show(height, 'cm', 0)}: forced vital capacity`,
  columns: ['Reference set', 'Predicted', 'Lower limit of normal'],
  rows: now.map(({ set, expected }) => ({
    label: set.name,
    cells:
      'problems' in expected
        ? [whyNot(expected.problems[0]?.field, group), 'no value']
        : [
            show(expected.predicted, 'L', 2) + (expected.caution ? ' (outside its heights)' : ''),
            show(lowerLimitOf(expected), 'L', 2) + (set.id === 'ecsc-1993' ? ' (not yet checked)' : ''),
          ],
  })),
});

export const predictedVolume = defineMoving({
  title: 'What volume is predicted for this person?',
  about:
    'Move the sliders for age and height. Each line is one reference set, and each set predicts a different volume for the same person. The ethnic group that you choose changes only GLI-2012 and NHANES III, the two reference sets that publish separate values for ethnic groups.',
  controls: {
    sex: {
      kind: 'choice',
      label: 'Sex',
      options: sexOptions,
      initial: 'female',
    },
    across: {
      kind: 'choice',
      label: 'Across the picture',
      options: [
        { value: 'age', label: 'Age' },
        { value: 'height', label: 'Height' },
      ],
      initial: 'age',
    },
    age: { kind: 'slide', label: 'Age', unit: 'a', min: 5, max: 90, step: 1, decimals: 0, initial: 60 },
    height: { kind: 'slide', label: 'Height', unit: 'cm', min: 110, max: 200, step: 1, decimals: 0, initial: 162 },
    group: {
      kind: 'choice',
      label: 'Group, for GLI-2012 and NHANES III',
      options: [
        { value: '', label: 'None: leave these two out' },
        ...groups.map(([value, label]) => ({ value, label })),
      ] as { value: Group | ''; label: string }[],
      initial: '',
    },
  },
  picture: (values) => {
    const { across, age, height } = values;
    const now = sets.map((set) => ({ set, expected: expectedBy(set, values) }));
    const here = across === 'age' ? age : height;
    return {
      draws: { kind: 'plot', plot: plotOf(values, now, here) },
      table: tableOf(values, now),
      says: now
        .flatMap(({ set, expected }) =>
          'problems' in expected ? [] : [`${set.name} predicts ${show(expected.predicted, 'L', 2)}`],
        )
        .join('; ')
        .concat('.'),
      notes: [
        'Height matters most for the predicted volume, but is hard to measure in someone who cannot stand. If only the reference set changes, the predicted volume changes although the lungs have not changed.',
        'Each line ends at the last age that its reference set covers. No line is drawn beyond the published ages.',
      ],
    };
  },
});

const whyNot = (field: string | undefined, group: string): string =>
  field === 'group'
    ? group === ''
      ? 'needs a group'
      : 'has no such group'
    : `outside its ${field === 'age' ? 'ages' : 'heights'}`;
