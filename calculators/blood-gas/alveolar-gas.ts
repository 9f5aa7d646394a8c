/**
 * Oxygen in the alveoli, and how much less of it reaches the arteries.
 *
 *   full    PAO2 = FiO2 x (PB - 47) - PaCO2 x (FiO2 + (1 - FiO2) / R)
 *   simple  PAO2 = FiO2 x (PB - 47) - PaCO2 / R
 *   gradient = PAO2 - PaO2
 *
 * CO2 and oxygen share the alveolus: when CO2 rises, oxygen falls by about as much again. On room
 * air a low PaO2 with a gradient near the expected one is what breathing too little alone would do;
 * a wide gradient says that the lung has trouble of its own (secretions, collapse, pneumonia).
 *
 * The two forms differ by 2 mmHg on room air and by PaCO2 x FiO2 x (1/R - 1) in general, the simple
 * one being lower. They are given side by side, because the expected gradients were quoted with either.
 *
 * @refuses a gas that leaves no oxygen in the alveolus. No expected gradient is given on oxygen, or
 *          under 18 years
 */

import { age } from '../body-size/shared-fields.ts';
import { defineCalculator, formula } from '../calculator.ts';
import { isChild } from '../domain/age-and-sex.ts';
import { refuse } from '../outcome.ts';
import { show } from '../quantity.ts';
import { mercury, paco2, pao2 } from './shared-fields.ts';

const fio2Symbol = { means: 'fraction of oxygen in the air breathed', unit: '', range: [0.15, 1] } as const;
const pbSymbol = { means: 'pressure of the air', unit: 'mmHg', range: [400, 790] } as const;
const paco2Symbol = { means: 'arterial CO2', unit: 'mmHg', range: [15, 150] } as const;
const rSymbol = { means: 'CO2 made for each oxygen used', unit: '', range: [0.7, 1] } as const;

const fullForm = formula({
  result: 'PAO2',
  unit: 'mmHg',
  text: 'fio2 * (pb - 47) - paco2 * (fio2 + (1 - fio2) / r)',
  withUnits: 'fio2 * (pb - 47 mmHg) - paco2 * (fio2 + (1 - fio2) / r)',
  symbols: { fio2: fio2Symbol, pb: pbSymbol, paco2: paco2Symbol, r: rSymbol },
  run: ({ fio2, pb, paco2, r }) => fio2 * (pb - 47) - paco2 * (fio2 + (1 - fio2) / r),
});

const simpleForm = formula({
  result: 'PAO2',
  unit: 'mmHg',
  text: 'fio2 * (pb - 47) - paco2 / r',
  withUnits: 'fio2 * (pb - 47 mmHg) - paco2 / r',
  symbols: { fio2: fio2Symbol, pb: pbSymbol, paco2: paco2Symbol, r: rSymbol },
  run: ({ fio2, pb, paco2, r }) => fio2 * (pb - 47) - paco2 / r,
});

export const gradient = formula({
  result: 'gradient',
  unit: 'mmHg',
  text: 'alveolar - arterial',
  symbols: {
    alveolar: { means: 'oxygen in the alveoli', unit: 'mmHg', range: [20, 700] },
    arterial: { means: 'oxygen in arterial blood', unit: 'mmHg', range: [20, 650] },
  },
  run: ({ alveolar, arterial }) => alveolar - arterial,
});

const years = { means: 'age in years', unit: '', range: [18, 100] } as const;

export const expectedQuarter = formula({
  result: 'expectedGradient',
  unit: 'mmHg',
  text: 'age / 4 + 4',
  withUnits: '(age / 4 + 4) * 1 mmHg',
  symbols: { age: years },
  run: ({ age }) => age / 4 + 4,
});

export const expectedLine = formula({
  result: 'expectedGradient',
  unit: 'mmHg',
  text: '2.5 + 0.21 * age',
  withUnits: '(2.5 + 0.21 * age) * 1 mmHg',
  symbols: { age: years },
  run: ({ age }) => 2.5 + 0.21 * age,
});

export default defineCalculator({
  id: 'alveolar-gas',
  title: 'Alveolar oxygen and the A-a gradient',
  purpose: 'Shows how much of a low oxygen level is due to CO2, and how much is due to the lungs.',
  group: 'gas',
  keywords: ['alveolar gas equation', 'PAO2', 'A-a gradient', 'A-a difference', 'blood gas', 'ABG', 'hypoventilation'],
  fields: {
    fio2: {
      kind: 'number',
      label: 'Oxygen breathed in',
      unit: '1',
      accepts: ['%'],
      plausible: [0.2, 0.6],
      hard: [0.15, 1],
      help: 'Room air is 0.21. If oxygen is given by cannula, the FiO2 is only an estimate.',
    },
    paco2,
    pao2: {
      ...pao2,
      optional: true,
      help: 'Enter the PaO2 from the same sample as the PaCO2. Leave PaO2 empty to calculate alveolar oxygen alone.',
    },
    pressure: {
      kind: 'number',
      label: 'Air pressure',
      unit: 'mm[Hg]',
      accepts: ['hPa', 'kPa'],
      plausible: [560, 790],
      hard: [350, 800],
      optional: true,
      help: 'Enter the air pressure where the sample was taken. If you enter no air pressure, the calculation uses 760 mmHg (sea level). Do not use the pressure from a weather report, which is corrected to sea level. At altitude, take the air pressure from the calculator “Oxygen at altitude and in a cabin”.',
    },
    r: {
      kind: 'number',
      label: 'Gas exchange ratio R',
      unit: '{ratio}',
      plausible: [0.7, 1],
      hard: [0.6, 1.2],
      optional: true,
      help: 'If you enter no respiratory quotient, the calculation uses 0.8, the usual assumption at rest.',
    },
    age: {
      ...age,
      optional: true,
      help: 'If you enter an adult\u2019s age, the answer also shows the A-a gradient expected at that age.',
    },
  },
  formulas: { fullForm, simpleForm, gradient, expectedQuarter, expectedLine },
  results: {
    alveolar: { label: 'Alveolar oxygen, full form', unit: 'mm[Hg]', decimals: 0, plausible: [20, 700], main: true },
    alveolarSimple: { label: 'Alveolar oxygen, simple form', unit: 'mm[Hg]', decimals: 0, plausible: [20, 700] },
    gradient: { label: 'A-a gradient, full form', unit: 'mm[Hg]', decimals: 0, plausible: [-15, 600], main: true },
    gradientSimple: { label: 'A-a gradient, simple form', unit: 'mm[Hg]', decimals: 0, plausible: [-15, 600] },
    expected: { label: 'Expected at this age, age / 4 + 4', unit: 'mm[Hg]', decimals: 0, plausible: [3, 35] },
    expectedLine: {
      label: 'Expected at this age, 2.5 + 0.21 x age (not yet checked)',
      unit: 'mm[Hg]',
      decimals: 0,
      plausible: [2, 30],
    },
  },
  holds: {
    population: 'an arterial sample taken while breathing is steady',
    ages: 'the expected gradients are for adults, 18 years and over',
    notFor: 'venous samples; the expected gradient of a person on oxygen',
  },
  cautions: [
    'A near-normal gradient does not make a raised CO2 harmless. A near-normal gradient means that hypoventilation is the cause of the low oxygen, and that breathing needs support.',
    'This calculation does not apply to a blood gas taken within minutes of a change in oxygen or ventilation.',
  ],
  citations: [
    {
      cite: 'Alveolar gas equation, full and simple form, with a respiratory quotient (R) of 0.8 and a water vapour pressure of 47 mmHg at 37 °C',
      locator: 'standard physiology',
      standing: 'from-memory',
    },
    {
      cite: 'Expected gradient, age / 4 + 4',
      locator: 'found in a teaching text; we did not trace the first publication',
      standing: 'checked-in-summary',
    },
    {
      cite: 'Expected gradient, 2.5 + 0.21 x age',
      locator: 'from memory; no source was opened',
      standing: 'from-memory',
    },
    mercury,
  ],
  compute: ({ fio2, paco2, pao2, pressure, r, age }, step) => {
    const gas = { fio2, pb: pressure ?? 760, paco2, r: r ?? 0.8 };
    const alveolar = step(fullForm, gas);
    const alveolarSimple = step(simpleForm, gas);
    if (alveolar <= 0 || alveolarSimple <= 0)
      return refuse(
        'paco2',
        `With this air, a CO2 of ${show(paco2, 'mm[Hg]', 0)} leaves no oxygen in the alveoli. Check the CO2, the oxygen and the air pressure`,
      );
    const onOxygen = fio2 > 0.215;
    const cautions = [
      ...(pressure === undefined ? ['Air pressure was taken as 760\u00a0mmHg, sea level.'] : []),
      ...(onOxygen
        ? [
            'Oxygen itself widens the gradient, so no expected value is given and a wide gradient says little. A good oxygen level here can hide a rising CO2: look at the CO2.',
          ]
        : []),
      ...(age !== undefined && isChild(age) ? ['The expected gradients are for adults and are left out.'] : []),
    ];
    const results = { alveolar: { value: alveolar }, alveolarSimple: { value: alveolarSimple } };
    if (pao2 === undefined) return { results, cautions };
    const difference = step(gradient, { alveolar, arterial: pao2 });
    if (difference < 0)
      cautions.unshift(
        'Arterial oxygen cannot be higher than alveolar oxygen. Was this sample taken on more oxygen than you typed, or is a number or unit wrong?',
      );
    return {
      results: {
        ...results,
        gradient: { value: difference },
        gradientSimple: { value: step(gradient, { alveolar: alveolarSimple, arterial: pao2 }) },
        ...(age === undefined || isChild(age) || onOxygen
          ? {}
          : {
              expected: { value: step(expectedQuarter, { age }) },
              expectedLine: { value: step(expectedLine, { age }) },
            }),
      },
      cautions,
    };
  },
});
