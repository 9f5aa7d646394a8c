import type { CalculatorGroup } from '../../calculators/calculator.ts';

/** Headings of the list of calculators, by what the reader has measured or has to plan. */
export const groupTitles: Record<CalculatorGroup, { title: string; hand: string }> = {
  size: { title: 'Size and weight', hand: 'A tape measure, a scale, or a height that cannot be stood up for.' },
  'vital-capacity': { title: 'Vital capacity', hand: 'Litres from a spirometer.' },
  strength: { title: 'Breathing-muscle strength', hand: 'A mouth pressure or a sniff.' },
  cough: { title: 'Cough', hand: 'A peak cough flow, or a peak flow meter.' },
  oxygen: { title: 'Oxygen', hand: 'A flow, a mask, a cylinder.' },
  gas: { title: 'Blood gas and ventilation', hand: 'A gas result, a rate, a breath size.' },
  'going-out': { title: 'Going out and staying on', hand: 'Batteries, a trip, a flight.' },
  decline: { title: 'Change over time', hand: 'The same reading on several dates.' },
  sessions: { title: 'Sessions and hours', hand: 'A cough session order, or the hours on the machine.' },
};
