import type { Citation } from '../calculator.ts';

/**
 * What is printed above every oxygen calculator. A flow is easy to turn up and its harm is silent: the
 * saturation looks better while carbon dioxide climbs, so the caution comes before the calculation and not after it.
 */
export const before = [
  'Oxygen alone can hide and worsen hypoventilation. In eight people with neuromuscular disease, oxygen at 0.5 to 2 L/min raised carbon dioxide by a mean of 28 mmHg (Gay and Edmonds 1995, abstract read). Treat weak breathing first, with ventilation.',
  'A good saturation on oxygen says nothing about carbon dioxide, which can be rising at 98 % (not yet checked).',
  'If someone on oxygen is harder to wake, is confused, or has a new morning headache or jerking hands, call emergency services now and keep their own ventilator on (not yet checked).',
  'Nothing here is an order. Start, stop or change oxygen only under an order that covers it.',
] as const;

export const hypoventilation: readonly Citation[] = [
  {
    cite: 'Gay PC, Edmonds LC. Mayo Clin Proc 1995;70',
    locator:
      'abstract (PMID 7898136): carbon dioxide rose by a mean of 28.2 mmHg (SD 23.3) in 8 people on oxygen at 0.5 to 2 L/min',
    standing: 'checked',
  },
  {
    cite: 'Hardinge M, et al. BTS home oxygen guideline. Thorax 2015;70 Suppl 1',
    locator:
      'neuromuscular recommendations, AHRQ archive, summary 10792: oxygen at night should not be given alone (grade B); NIV comes first in type 2 respiratory failure (grade D)',
    standing: 'checked',
  },
];
