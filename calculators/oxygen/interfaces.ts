/**
 * What published texts say that each oxygen interface gives an adult, and over which flows.
 *
 * These are conventions and ranges, not measurements on a person: a cannula or a simple mask gives a mixture
 * that depends on the breath. Where texts disagree the widest range is used and every text is listed.
 */
import type { Standing } from '../standing.ts';

export type Interface = 'cannula' | 'simple-mask' | 'reservoir-mask' | 'venturi' | 'tracheostomy-mask';

/** Oxygen flows, L/min, over which a figure is published. Outside them there is no result. */
export const flowRange: Record<Exclude<Interface, 'venturi'>, readonly [number, number]> = {
  cannula: [1, 6],
  'simple-mask': [5, 10],
  'reservoir-mask': [10, 15],
  'tracheostomy-mask': [5, 10],
};

/** Lowest and highest FiO2, per cent, that any text read here quotes for the whole flow range. */
export const maskRange = {
  'simple-mask': [35, 60],
  'reservoir-mask': [60, 90],
  'tracheostomy-mask': [35, 60],
} as const;

export const quoted: Record<Interface, readonly { text: string; flow: string; fio2: string; standing: Standing }[]> = {
  cannula: [
    {
      text: 'Measured in the throat of 10 healthy adults at rest, means (Wettstein 2005)',
      flow: '1 to 6',
      fio2: '26 to 54',
      standing: 'checked',
    },
    { text: 'The same ten, breathing fast, means', flow: '1 to 6', fio2: '24 to 45', standing: 'checked' },
    { text: 'Australian therapeutic guideline text', flow: '1 to 4', fio2: '24 to 35', standing: 'checked' },
    { text: 'BTS 2017 oxygen guideline', flow: '1 to 6', fio2: '24 to 50', standing: 'checked-in-summary' },
  ],
  'simple-mask': [
    { text: 'Australian therapeutic guideline text', flow: '5 to 10', fio2: '35 to 60', standing: 'checked' },
    { text: 'BTS 2017 oxygen guideline', flow: '5 to 10', fio2: '40 to 60', standing: 'checked-in-summary' },
    { text: 'A teaching card', flow: '5 to 10', fio2: '35 to 50', standing: 'checked-in-summary' },
  ],
  'reservoir-mask': [
    { text: 'BTS 2017 oxygen guideline', flow: 'up to 15', fio2: '60 to 90', standing: 'checked-in-summary' },
    { text: 'A teaching card', flow: 'above 10', fio2: '60 to 90', standing: 'checked-in-summary' },
    { text: 'Australian therapeutic guideline text', flow: '15', fio2: 'above 60', standing: 'checked' },
  ],
  venturi: [],
  'tracheostomy-mask': [{ text: 'Recalled, not read', flow: '5 to 10', fio2: '35 to 60', standing: 'from-memory' }],
};

/** Oxygen flow, L/min, usually printed on each Venturi valve. The percent on the part rules, not its colour. */
export const venturiFlow = { 24: 2, 28: 4, 31: 6, 35: 8, 40: 10, 60: 15 } as const;
export type VenturiPercent = `${keyof typeof venturiFlow}`;
