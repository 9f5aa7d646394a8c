import type { CalculatorGroup } from '../../calculators/calculator.ts';

/** Headings of the list of calculators, by what the reader has measured or has to plan. */
export const groupTitles: Record<CalculatorGroup, { title: string; hand: string }> = {
  size: {
    title: 'Size and weight',
    hand: 'These calculations need a tape measure or weighing scales. Some of these calculations are for people who cannot stand to be measured.',
  },
  'vital-capacity': {
    title: 'Vital capacity',
    hand: 'These calculations need a volume in litres, measured with a spirometer.',
  },
  strength: {
    title: 'Breathing-muscle strength',
    hand: 'These calculations need a mouth pressure or a sniff pressure.',
  },
  cough: { title: 'Cough', hand: 'These calculations need a peak cough flow, or a reading from a peak flow meter.' },
  oxygen: { title: 'Oxygen', hand: 'These calculations are about an oxygen flow, a mask or a cylinder.' },
  gas: {
    title: 'Blood gas and ventilation',
    hand: 'These calculations need a blood gas result, a breathing rate or a tidal volume.',
  },
  'going-out': {
    title: 'Going out and staying on',
    hand: 'These calculations are about batteries, a trip or a flight.',
  },
  decline: { title: 'Change over time', hand: 'This calculation needs the same measurement taken on several dates.' },
  sessions: {
    title: 'Sessions and hours',
    hand: 'These calculations are about a prescribed cough session, or the hours on the ventilator.',
  },
};
