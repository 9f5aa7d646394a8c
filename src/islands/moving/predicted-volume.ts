/** Predicted vital capacity against age or height, one line a reference set. */
import { personOfSex, sexOptions } from '../../../calculators/domain/age-and-sex.ts';
import { show } from '../../../calculators/quantity.ts';
import { lowerLimitOf } from '../../../calculators/spirometry/expected.ts';
import { type Group, groupNames, type ReferenceSet } from '../../../calculators/spirometry/reference-set.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import { along, defineMoving, type Line, type Look, upTo } from './figure.ts';

const groups = Object.entries(groupNames) as [Group, string][];
const looks: Look[] = ['main', 'dashed', 'dotted', 'long'];
const sets: readonly ReferenceSet[] = Object.values(forcedSets);

export const predictedVolume = defineMoving({
  title: 'What is expected of this person?',
  about:
    'Move age and height. Each line is a reference set: the same person, and another expected volume. A group matters only in the two sets that publish groups.',
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
  picture: ({ sex, across, age, height, group }) => {
    const at = (set: ReferenceSet, x: number) =>
      set.expected('FVC', {
        sex,
        age: across === 'age' ? x : age,
        height: across === 'height' ? x : height,
        group: set.groups.length === 0 || group === '' ? undefined : group,
      });
    const here = across === 'age' ? age : height;
    const axis =
      across === 'age'
        ? { label: 'Age, years', low: 0, high: 90, every: 10, from: 3, step: 1 }
        : { label: 'Height, cm', low: 110, high: 200, every: 10, from: 110, step: 2 };
    const lines = sets.map((set, place): Line => {
      const points = along(axis.from, axis.high, axis.step).map((x) => {
        const expected = at(set, x);
        return 'problems' in expected ? null : ([x, expected.predicted] as const);
      });
      return { name: set.name, look: looks[place] ?? 'thin', points };
    });
    const drawn = lines.filter(({ points }) => points.some((point) => point !== null));
    const now = sets.map((set) => ({ set, expected: at(set, here) }));
    const highest = Math.max(...drawn.flatMap(({ points }) => points.map((point) => point?.[1] ?? 0)));
    return {
      draws: {
        kind: 'plot',
        plot: {
          x: axis,
          y: { label: 'predicted vital capacity, litres', low: 0, high: upTo(highest, 1), every: 1 },
          lines: drawn,
          rules: [{ across: 'x', at: here, name: across === 'age' ? 'this age' : 'this height' }],
          dots: now.flatMap(({ expected }) =>
            'problems' in expected ? [] : [{ at: [here, expected.predicted] as const, look: 'hand' as const }],
          ),
        },
      },
      table: {
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
      },
      says: now
        .flatMap(({ set, expected }) =>
          'problems' in expected ? [] : [`${set.name} expects ${show(expected.predicted, 'L', 2)}`],
        )
        .join('; ')
        .concat('.'),
      notes: [
        'Height matters most here, and it is hardest to measure in someone who cannot stand. A change of set is not a change in the person.',
        'A line ends where its set ends. Nothing is drawn beyond the published ages.',
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
