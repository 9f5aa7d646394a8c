import type { CalculatorGroup } from '../../calculators/calculator.ts';

/** Headings of the list of calculators, by what the reader has measured or has to plan. */
export const groupTitles: Record<CalculatorGroup, { title: string; hand: string }> = {
  size: {
    title: 'Size and weight',
    hand: 'For a tape measure or scales, and for people who cannot stand to be measured.',
  },
  'vital-capacity': { title: 'Vital capacity', hand: 'For litres from a spirometer.' },
  strength: { title: 'Breathing-muscle strength', hand: 'For a mouth pressure or a sniff.' },
  cough: { title: 'Cough', hand: 'For a peak cough flow, or a peak flow meter.' },
  oxygen: { title: 'Oxygen', hand: 'For an oxygen flow, a mask or a cylinder.' },
  gas: { title: 'Blood gas and ventilation', hand: 'For a blood gas result, a breathing rate or a tidal volume.' },
  'going-out': { title: 'Going out and staying on', hand: 'For batteries, a trip or a flight.' },
  decline: { title: 'Change over time', hand: 'For the same reading on several dates.' },
  sessions: { title: 'Sessions and hours', hand: 'For an ordered cough session, or the hours on the ventilator.' },
};
