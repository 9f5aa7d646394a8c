/**
 * Arterial oxygen predicted for an aircraft cabin, by each published regression, side by side.
 *
 *   Dillard, PaO2 alone    0.410 x PaO2 + 17.652
 *   Dillard, with FEV1 %   0.453 x PaO2 + 0.386 x FEV1 % + 2.440
 *   Dillard, with FEV1 L   0.519 x PaO2 + 11.855 x FEV1 - 1.760
 *   Gong, at 8000 ft       0.88 + 0.68 x PaO2                   (22.8 - 2.74 x thousands of feet + 0.68 x PaO2)
 *
 * They are here because they are quoted, not because they fit. All were built in obstructive disease,
 * none in neuromuscular disease, and they call for oxygen more often than a test does. What they cannot
 * see is the thing that matters: whether breathing itself will hold.
 *
 * @param pao2     on room air, at the ground
 * @param altitude cabin, 5000 to 10 000 ft; the Dillard forms hold at 8000 ft only
 * @refuses a PaO2 taken on oxygen or on an unknown gas; under 18 years
 */

import { pao2 } from '../blood-gas/shared-fields.ts';
import { age } from '../body-size/shared-fields.ts';
import { defineCalculator, formula } from '../calculator.ts';
import { isChild } from '../domain/age-and-sex.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { show } from '../quantity.ts';
import { cabinFeet } from './altitude-oxygen.ts';

const ground = { means: 'arterial oxygen at the ground', unit: 'mmHg', range: [40, 110] } as const;
const result = 'PaO2inFlight';

export const dillardAlone = formula({
  result,
  unit: 'mmHg',
  text: '0.410 * ground + 17.652',
  withUnits: '0.410 * ground + 17.652 mmHg',
  symbols: { ground },
  run: ({ ground }) => 0.41 * ground + 17.652,
});

export const dillardPercent = formula({
  result,
  unit: 'mmHg',
  text: '0.453 * ground + 0.386 * fev1Percent + 2.440',
  withUnits: '0.453 * ground + 0.386 mmHg * fev1Percent + 2.440 mmHg',
  symbols: { ground, fev1Percent: { means: 'FEV1, per cent of predicted', unit: '', range: [10, 120] } },
  run: ({ ground, fev1Percent }) => 0.453 * ground + 0.386 * fev1Percent + 2.44,
});

export const dillardLitres = formula({
  result,
  unit: 'mmHg',
  text: '0.519 * ground + 11.855 * fev1 - 1.760',
  withUnits: '0.519 * ground + 11.855 mmHg/L * fev1 - 1.760 mmHg',
  symbols: { ground, fev1: { means: 'FEV1', unit: 'L', range: [0.3, 5] } },
  run: ({ ground, fev1 }) => 0.519 * ground + 11.855 * fev1 - 1.76,
});

export const gong = formula({
  result,
  unit: 'mmHg',
  text: '22.8 - 2.74 * thousandFeet + 0.68 * ground',
  withUnits: '22.8 mmHg - 2.74 mmHg * thousandFeet + 0.68 * ground',
  symbols: { thousandFeet: { means: 'cabin altitude in thousands of feet', unit: '', range: [5, 10] }, ground },
  run: ({ thousandFeet, ground }) => 22.8 - 2.74 * thousandFeet + 0.68 * ground,
});

/** PaO2 in flight below which oxygen is advised in the review cited, mmHg. */
const advised = 50;

export default defineCalculator({
  id: 'flight-pao2',
  title: 'Predicted oxygen in flight',
  purpose:
    'Shows the published equations for oxygen in flight side by side, and why each is unreliable for people with weak breathing muscles.',
  group: 'going-out',
  keywords: [
    'flight',
    'fly',
    'airline',
    'PaO2',
    'hypoxic challenge',
    'HAST',
    'HCT',
    'Dillard',
    'Gong',
    'in-flight oxygen',
  ],
  fields: {
    pao2: { ...pao2, label: 'PaO2 at the ground', plausible: [50, 100], hard: [30, 140] },
    gas: {
      kind: 'choice',
      label: 'What was breathed',
      options: [
        { value: 'air', label: 'Room air, without ventilation' },
        { value: 'supported', label: 'Oxygen or ventilation' },
        { value: 'not-known', label: 'Not known' },
      ],
    },
    fev1Percent: {
      kind: 'number',
      label: 'FEV1, % of predicted',
      unit: '%',
      plausible: [15, 120],
      hard: [9.5, 150],
      optional: true,
    },
    fev1: {
      kind: 'number',
      label: 'FEV1 in litres',
      unit: 'L',
      accepts: ['mL'],
      plausible: [0.4, 5],
      hard: [0.2, 8],
      optional: true,
    },
    altitude: {
      kind: 'number',
      label: 'Cabin altitude',
      unit: '[ft_i]{altitude}',
      accepts: ['m{altitude}'],
      plausible: [6000, 8000],
      hard: [5000, 10000],
      optional: true,
      help: 'If you enter no altitude, the calculation uses 8000 ft. Only the Gong equation works for altitudes other than 8000 ft.',
    },
    age: {
      ...age,
      optional: true,
      help: 'The age is used only to check that the person is an adult, because the equations come from adults.',
    },
  },
  formulas: { dillardAlone, dillardPercent, dillardLitres, gong },
  results: {
    dillardAlone: { label: 'Dillard 1989, from PaO2 alone', unit: 'mm[Hg]', decimals: 0, plausible: [15, 100] },
    dillardPercent: { label: 'Dillard 1989, with FEV1 %', unit: 'mm[Hg]', decimals: 0, plausible: [15, 100] },
    dillardLitres: { label: 'Dillard 1989, with FEV1 in litres', unit: 'mm[Hg]', decimals: 0, plausible: [15, 100] },
    gong: { label: 'Gong 1984', unit: 'mm[Hg]', decimals: 0, plausible: [15, 100] },
  },
  holds: {
    population: 'adults with obstructive lung disease',
    ages: '18 years and over',
    notFor: 'deciding whether someone with neuromuscular disease can fly; anyone on oxygen; children',
  },
  before: [
    'None of the flight equations was made for neuromuscular disease; all come from studies of obstructive lung disease.',
    'The flight equations predict a need for oxygen too often: compared with a hypoxic challenge test, they considerably overestimated the need for oxygen.',
    'In flight, ventilation comes before oxygen. Oxygen alone can let CO2 rise unnoticed. A hypoxic challenge test with CO2 measurement, arranged by the team, is a better guide than the equations.',
  ],
  cautions: [
    'A predicted PaO2 above 50 mmHg does not mean that someone is fit to fly. Of 19 adults with severe restriction from a cause outside the lung, 15 met the criteria for oxygen in flight, whatever their resting saturation.',
    'In a study in motor neurone disease, support in flight was unlikely to be needed with an FVC above 2.7\u00a0L or SpO2 above 97\u00a0%. In the same study, with an FVC below 2.7\u00a0L, only a hypoxic challenge test could show with confidence who needs support in flight. Clinics that offer the hypoxic challenge test only to people with a vital capacity below 1\u00a0L test fewer people than they would with a threshold of 2.7\u00a0L (we have not yet checked the threshold of 1\u00a0L at its source).',
    'In a hypoxic challenge test on 15 % oxygen, oxygen in flight is not required if PaO2 is 50\u00a0mmHg (6.6\u00a0kPa) or more and SpO2 is 85\u00a0% or more. If PaO2 is below 50\u00a0mmHg (6.6\u00a0kPa) or SpO2 is below 85\u00a0%, the hypoxic challenge test is repeated on oxygen. A pH below 7.35 with a CO2 rise above 1\u00a0kPa in the repeated test on oxygen is a reason to consider advising against travel.',
    'The doctor, the ventilation service and the airline decide about the flight.',
  ],
  citations: [
    {
      cite: 'Dillard TA, Berg BW, Rajagopal KR, et al. Ann Intern Med 1989;111:362-367',
      locator:
        'abstract, form with FEV1 %: in 18 men with severe obstruction, mean PaO2 fell from 72.4 to 47.4 mmHg at 8000 ft',
      standing: 'checked',
    },
    {
      cite: 'Dillard 1989 (the other two forms) and Gong 1984 at 8000 ft',
      locator: 'as printed in the abstract of a 2019 comparison in cystic fibrosis',
      standing: 'checked-in-summary',
      note: 'The abstract prints 1,7652 for 17.652, but only 17.652 fits the means of the study (47.3 calculated, 47.4 measured).',
    },
    {
      cite: 'Gong H, Tashkin DP, Lee EY, Simmons MS. Am Rev Respir Dis 1984;130:980-986',
      locator: 'the constant 22.8 and the altitude term 2.74 each come from memory; together they fit the 8000 ft form',
      standing: 'from-memory',
    },
    {
      cite: 'Martin SE, Bradley JM, Buick JB, et al. QJM 2007;100:361-367',
      locator:
        'abstract: 45 people with obstruction, interstitial disease or cystic fibrosis; the equations considerably overestimate the need for oxygen',
      standing: 'checked',
    },
    {
      cite: 'Bradi AC, Faughnan ME, Stanbrook MB, et al. Can Respir J 2009;16:119-124',
      locator: 'abstract: in 27 people, 16 equations were markedly inaccurate',
      standing: 'checked',
    },
    {
      cite: 'Oxygen advised if the predicted PaO2 in flight is below 50 mmHg',
      locator: 'abstract of a review',
      standing: 'checked',
    },
    {
      cite: 'BTS clinical statement on air travel. Thorax 2022;77:329-350',
      locator:
        'table page on the hypoxic challenge test; our reading is that either a low PaO2 or a low saturation is enough to repeat the test on oxygen',
      standing: 'checked',
    },
    {
      cite: 'Hypoxic challenge in motor neurone disease, 2024 (PMID 39503375)',
      locator: 'conclusion of the abstract',
      standing: 'checked',
    },
    {
      cite: 'Mestry N, et al. Thorax 2009;64:532',
      locator: 'abstract: 19 adults, mean FVC 0.92 L',
      standing: 'checked',
    },
  ],
  compute: ({ pao2, gas, fev1Percent, fev1, altitude, age }, step) => {
    if (age !== undefined && isChild(age))
      return refuse('age', 'These equations come from adults aged 18 and over. The paediatric team tests a child');
    if (gas !== 'air')
      return refuse(
        'gas',
        gas === 'supported'
          ? 'Cannot tell: this PaO2 was taken on oxygen or ventilation, and the equations start from room air'
          : 'Cannot tell: it is not known whether this was on air or oxygen, and the equations start from room air',
      );
    const feet = altitude ?? cabinFeet;
    const atCabin = Math.abs(feet - cabinFeet) < 5;
    const results = {
      ...(atCabin
        ? {
            dillardAlone: { value: step(dillardAlone, { ground: pao2 }) },
            ...(fev1Percent === undefined
              ? {}
              : { dillardPercent: { value: step(dillardPercent, { ground: pao2, fev1Percent }) } }),
            ...(fev1 === undefined ? {} : { dillardLitres: { value: step(dillardLitres, { ground: pao2, fev1 }) } }),
          }
        : {}),
      gong: { value: step(gong, { thousandFeet: feet / 1000, ground: pao2 }) },
    };
    return {
      results,
      cautions: atCabin
        ? altitude === undefined
          ? ['Cabin altitude was taken as 8000\u00a0ft.']
          : []
        : [
            'The Dillard forms hold at 8000\u00a0ft only and are left out. The altitude term of the Gong form is not yet checked.',
          ],
      tables: [besideAdvised(results)],
    };
  },
});

function besideAdvised(results: Record<string, { value: number }>): ResultTable {
  const names: Record<string, string> = {
    dillardAlone: 'Dillard, PaO2 alone',
    dillardPercent: 'Dillard, FEV1 %',
    dillardLitres: 'Dillard, FEV1 in litres',
    gong: 'Gong',
  };
  return {
    caption:
      'The result is compared with 50 mmHg; below this, a review advises oxygen. A higher result does not mean that someone is fit to fly',
    columns: ['Regression', 'Predicted', 'Mark'],
    rows: Object.entries(results).map(([name, { value }]) => ({
      label: names[name] ?? name,
      cells: [show(value, 'mm[Hg]', 0), value < advised ? 'below 50' : 'not below 50'],
    })),
  };
}
