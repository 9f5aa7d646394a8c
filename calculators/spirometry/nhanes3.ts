/**
 * NHANES III (Hankinson 1999), ages 8 to 80, three groups.
 *
 *   predicted   = b0 + b1 age + b2 age^2 + b3 height^2        height in cm
 *   lower limit = the same with its own, smaller b3
 *
 * One line for the young and one for adults, with a step between them: men change over at 20, women at 18.
 * FVC and FEV1 in litres, PEF in L/s. FEV1/FVC in per cent follows age alone. The set prints a lower limit and no
 * spread, so there is no z-score and no centile here.
 *
 * @refuses ages under 8 and over 80; a height so small that the lower limit is not above zero, since the
 *          parabola goes on falling below the people it was made from
 * @source  coefficients: identical in two open implementations, 60 of 60 rows; the paper was not reached. The ages of
 *          the change-over: from memory of the paper, and the two implementations differ from it and from each other
 */
import { formula } from '../calculator.ts';
import { refuse } from '../outcome.ts';
import data from './nhanes3.json' with { type: 'json' };
import { outside, type ReferenceSet } from './reference-set.ts';
import { plainly } from './run.ts';

const symbols = {
  constant: { means: 'constant', unit: 'L', range: [-1.3, 0.7] },
  perYear: { means: 'change with each year of age', unit: 'L/year', range: [-0.21, 0.08] },
  age: { means: 'age', unit: 'year', range: [8, 80] },
  perYearSquared: { means: 'change with age squared', unit: 'L/year^2', range: [-0.0004, 0.011] },
  height: { means: 'height', unit: 'cm', range: [110, 210] },
} as const;
const text = 'constant + perYear * age + perYearSquared * age ^ 2 + perHeightSquared * height ^ 2';
type Symbols = Record<keyof typeof symbols | 'perHeightSquared', number>;
const run = ({ constant, perYear, age, perYearSquared, perHeightSquared, height }: Symbols) =>
  constant + perYear * age + perYearSquared * age ** 2 + perHeightSquared * height ** 2;
const perHeightSquared = { means: 'change with height squared', unit: 'L/cm^2', range: [0.00008, 0.0002] } as const;

export const nhanesPredicted = formula({
  result: 'predicted',
  unit: 'L',
  text,
  symbols: { ...symbols, perHeightSquared },
  run,
});

export const nhanesLowerLimit = formula({
  result: 'lowerLimit',
  unit: 'L',
  text,
  symbols: {
    ...symbols,
    perHeightSquared: { ...perHeightSquared, means: 'change with height squared, for the lower limit' },
  },
  run,
});

const set = {
  id: 'nhanes3-1999',
  name: 'NHANES III',
  ages: [8, 80],
  indices: ['FVC', 'FEV1', 'PEF', 'FEV1FVC'],
  groups: ['caucasian', 'african-american', 'mexican-american'],
} as const;
type OwnGroup = (typeof set.groups)[number];

export const nhanes3: ReferenceSet = {
  ...set,
  expected: (index, person, run = plainly) => {
    const refusal = outside(set, index, person);
    if (refusal) return refusal;
    const { sex, age, height } = person;
    const group = person.group as OwnGroup;
    if (index === 'FEV1FVC') {
      const ratio = data.FEV1FVC[sex][group];
      return { form: 'limit', predicted: ratio.b0 + ratio.age * age, lowerLimit: ratio.b0LLN + ratio.age * age };
    }
    const band = age < data.adultFromAge[sex] ? 'young' : 'adult';
    const line = data.equations[index as 'FVC' | 'FEV1' | 'PEF'][sex][group][band];
    const shared = { constant: line.b0, perYear: line.age, age, perYearSquared: line.age2, height };
    const predicted = run(nhanesPredicted, { ...shared, perHeightSquared: line.heightCm2 });
    const lowerLimit = run(nhanesLowerLimit, { ...shared, perHeightSquared: line.heightCm2LLN });
    if (lowerLimit <= 0)
      return refuse(
        'height',
        `${set.name} gives no usable value at this age and height: its lower limit falls to zero. Is the height in cm right?`,
      );
    return { form: 'limit', predicted, lowerLimit };
  },
};
