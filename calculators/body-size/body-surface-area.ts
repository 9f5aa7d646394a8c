/**
 * Body surface area, by the Mosteller rule.
 *
 *   area = square root of (height x weight / 3600)          cm, kg, square metres
 *
 * A few doses and kidney figures are quoted per square metre. Breathing is not: tidal volume follows
 * ideal weight, which has its own calculator.
 *
 * @source  Mosteller 1987, as printed in a paediatric dosing review; the rule is meant for all ages
 */
import { defineCalculator, formula } from '../calculator.ts';
import { height, weight } from './shared-fields.ts';

export const surfaceArea = formula({
  result: 'surfaceArea',
  unit: 'm^2',
  text: 'sqrt(height * weight / 3600)',
  withUnits: 'sqrt(height * weight / (3600 cm kg/m^4))',
  symbols: {
    height: { means: 'height', unit: 'cm', range: [50, 215] },
    weight: { means: 'weight', unit: 'kg', range: [3, 200] },
  },
  run: ({ height, weight }) => Math.sqrt((height * weight) / 3600),
});

export default defineCalculator({
  id: 'body-surface-area',
  title: 'Body surface area',
  purpose: 'Calculates body surface area from height and weight, for the few figures that are quoted per square metre.',
  group: 'size',
  keywords: ['BSA', 'surface area', 'Mosteller', 'square metre'],
  fields: { height, weight },
  formulas: { surfaceArea },
  results: { surfaceArea: { label: 'Body surface area', unit: 'm2', decimals: 2, plausible: [0.4, 3], main: true } },
  holds: { population: 'children and adults' },
  cautions: [
    'Never choose a tidal volume by surface area or actual weight. Tidal volume is based on ideal weight.',
    'The prescriber sets any dose. This page only calculates the surface area.',
  ],
  citations: [
    {
      cite: 'Mosteller 1987',
      locator: 'the rule as printed in Table 2 of a paediatric dosing review (Arch Dis Child Educ Pract)',
      standing: 'checked-in-summary',
    },
  ],
  compute: ({ height, weight }, step) => ({
    results: { surfaceArea: { value: step(surfaceArea, { height, weight }) } },
  }),
});
