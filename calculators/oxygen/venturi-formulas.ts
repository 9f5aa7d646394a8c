import { type ChoiceField, formula } from '../calculator.ts';
import { type VenturiPercent, venturiFlow } from './interfaces.ts';

/**
 * The Venturi valve: a jet of oxygen draws in a fixed share of room air.
 *
 *   air : oxygen = (100 - percent) / (percent - 21)         total = oxygen flow x (1 + ratio)
 *
 * The share is fixed by the part, so more oxygen gives more of the same mixture and not a stronger one.
 */
export const ratio = formula({
  result: 'airToOxygen',
  unit: '',
  text: '(100 - percent) / (percent - 21)',
  symbols: { percent: { means: 'percent printed on the valve', unit: '', range: [24, 60] } },
  run: ({ percent }) => (100 - percent) / (percent - 21),
});

export const total = formula({
  result: 'totalFlow',
  unit: 'L/minute',
  text: 'oxygenFlow * (1 + airToOxygen)',
  symbols: {
    oxygenFlow: { means: 'oxygen flow to the valve', unit: 'L/minute', range: [1, 15] },
    airToOxygen: { means: 'litres of air drawn in for each litre of oxygen', unit: '', range: [1, 26] },
  },
  run: ({ oxygenFlow, airToOxygen }) => oxygenFlow * (1 + airToOxygen),
});

export const venturiPercent = {
  kind: 'choice',
  label: 'Percent printed on the Venturi valve',
  options: [
    { value: '24', label: '24 %' },
    { value: '28', label: '28 %' },
    { value: '31', label: '31 %' },
    { value: '35', label: '35 %' },
    { value: '40', label: '40 %' },
    { value: '60', label: '60 %' },
  ],
  help: 'Read the percentage printed on the Venturi valve. Colours differ between makers.',
} as const satisfies ChoiceField;

/** @returns the caution for a valve run below the flow printed on it, or none */
export const tooLittleForValve = (oxygenFlow: number, percent: VenturiPercent): string[] =>
  oxygenFlow < venturiFlow[percent]
    ? [
        `A ${percent} % valve is usually printed with ${venturiFlow[percent]} L/min. With less oxygen the total flow is smaller, and the person draws in room air as well.`,
      ]
    : [];
