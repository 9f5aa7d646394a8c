/**
 * Oxygen carried by a decilitre of blood.
 *
 *   content = 1.34 x haemoglobin x saturation / 100 + 0.0031 x PO2          mL/dL; g/dL, per cent, mmHg
 *
 * Nearly all of it sits on haemoglobin: a high tension on oxygen adds little, and anaemia takes away more than
 * a few points of saturation do.
 *
 * @source  1.34 as in the worked examples of an emergency-medicine teaching page; 0.0031 from memory
 */
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { before, hypoventilation } from './before.ts';
import { po2 } from './saturation-from-po2.ts';

const symbols = {
  haemoglobin: { means: 'haemoglobin', unit: 'g/dL', range: [3, 25] },
  saturation: { means: 'saturation, per cent', unit: '', range: [30, 100] },
  po2: { means: 'oxygen tension', unit: 'mmHg', range: [16, 500] },
} as const;

// A millilitre to the decilitre is a pure number to mathjs, so the unit is written in the meaning.
const bound = formula({
  result: 'bound',
  unit: '',
  text: '1.34 * haemoglobin * saturation / 100',
  withUnits: '1.34 mL/g * haemoglobin * saturation / 100 / (1 mL/dL)',
  symbols: { haemoglobin: symbols.haemoglobin, saturation: symbols.saturation },
  run: ({ haemoglobin, saturation }) => (1.34 * haemoglobin * saturation) / 100,
});

const dissolved = formula({
  result: 'dissolved',
  unit: '',
  text: '0.0031 * po2',
  withUnits: '0.0031 / mmHg * po2',
  symbols: { po2: symbols.po2 },
  run: ({ po2 }) => 0.0031 * po2,
});

const content = formula({
  result: 'content',
  unit: '',
  text: 'bound + dissolved',
  symbols: {
    bound: { means: 'oxygen on haemoglobin, mL/dL', unit: '', range: [1, 30] },
    dissolved: { means: 'oxygen dissolved, mL/dL', unit: '', range: [0, 2] },
  },
  run: ({ bound, dissolved }) => bound + dissolved,
});

const citations: Citation[] = [
  ...hypoventilation,
  {
    cite: 'Oxygen carried on haemoglobin, 1.34 mL/g',
    locator: 'worked examples of an emergency-medicine teaching page (150 g/L, 97 %, 10 kPa: about 197 mL/L)',
    standing: 'checked-in-summary',
    note: 'The constants 1.34, 1.36 and 1.39 mL/g are all in use for the oxygen carried by haemoglobin.',
  },
  {
    cite: 'Oxygen dissolved, 0.0031 mL/dL for each mmHg',
    locator: 'from memory; the teaching page has 0.23 mL/L for each kPa, which is 0.00307',
    standing: 'from-memory',
  },
];

export default defineCalculator({
  id: 'oxygen-content',
  title: 'Oxygen content of blood',
  purpose:
    'Calculates the oxygen content of blood: the oxygen bound to haemoglobin and the oxygen dissolved in plasma.',
  group: 'oxygen',
  keywords: ['oxygen content', 'CaO2', 'haemoglobin', 'anaemia', 'saturation', 'oxygen carriage'],
  fields: {
    haemoglobin: {
      kind: 'number',
      label: 'Haemoglobin',
      unit: 'g/dL',
      accepts: ['g/L'],
      plausible: [6, 20],
      hard: [2, 25],
    },
    saturation: { kind: 'number', label: 'Arterial saturation', unit: '%', plausible: [70, 100], hard: [20, 100] },
    po2,
  },
  formulas: { bound, dissolved, content },
  results: {
    content: { label: 'Oxygen content', unit: 'mL/dL', decimals: 1, plausible: [3, 28], main: true },
    bound: { label: 'On haemoglobin', unit: 'mL/dL', decimals: 1, plausible: [3, 28] },
    dissolved: { label: 'Dissolved', unit: 'mL/dL', decimals: 2, plausible: [0, 2] },
  },
  holds: {
    population: 'arterial blood with normal haemoglobin',
    notFor: 'carbon monoxide poisoning; deciding about oxygen',
  },
  before,
  cautions: [
    'A good oxygen content says nothing about carbon dioxide or about breathing.',
    'Each gram of haemoglobin is taken to carry 1.34 mL of oxygen. Some sources use 1.36 or 1.39 mL, which gives an oxygen content up to 4 % higher.',
  ],
  citations,
  compute: ({ haemoglobin, saturation, po2 }, step) => {
    const onHaemoglobin = step(bound, { haemoglobin, saturation });
    const inPlasma = step(dissolved, { po2 });
    return {
      results: {
        content: { value: step(content, { bound: onHaemoglobin, dissolved: inPlasma }) },
        bound: { value: onHaemoglobin },
        dissolved: { value: inPlasma },
      },
    };
  },
});
