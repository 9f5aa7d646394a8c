/**
 * What a reader can come with besides a reading, and the page that answers it. The browser tests check that each
 * address exists.
 */
export interface Door {
  words: string;
  to: string;
}

/** Readings in the order in which they are used; pages that are not named come after these. */
export const readingsFirst = [
  '/measuring/vital-capacity/',
  '/measuring/sniff-pressure/',
  '/measuring/mouth-pressure/',
  '/measuring/cough-flow/',
  '/measuring/saturation/',
  '/measuring/carbon-dioxide/',
];

export const signs: Door[] = [
  { words: 'Newly drowsy, confused or grey', to: '/urgent/drowsy-or-grey/' },
  { words: 'Airway that will not clear', to: '/urgent/cannot-clear-the-airway/' },
  { words: 'Chest infection', to: '/urgent/chest-infection/' },
  { words: 'Breathless lying flat', to: '/breathing/failing-at-night/' },
  { words: 'Morning headache, sleepy by day', to: '/breathing/failing-at-night/' },
  { words: 'Weak cough', to: '/cough/is-the-cough-strong-enough/' },
  { words: 'Choking', to: '/secretions/choking/' },
  { words: 'Drooling or thick saliva', to: '/secretions/saliva-and-thick-mucus/' },
  { words: 'Losing weight, slow meals', to: '/breathing/feeding-tube-and-sedation-timing/' },
  { words: 'More hours on the ventilator', to: '/breathing/support-spreads-into-the-day/' },
  { words: 'Low saturation, or oxygen offered', to: '/oxygen/why-oxygen-alone-is-dangerous/' },
  { words: 'Does not speak', to: '/home/people-who-do-not-speak/' },
  { words: 'Wishes that limit treatment', to: '/home/wishes/' },
];

export const devices: Door[] = [
  { words: 'Ventilator stopped', to: '/urgent/equipment-stopped/' },
  { words: 'Alarm', to: '/home/alarms/' },
  { words: 'Power or battery', to: '/home/power-and-back-up/' },
  { words: 'Mask leaks or hurts', to: '/breathing/interface-choice-and-fit/' },
  { words: 'Cannot get used to it', to: '/breathing/getting-used-to-it/' },
  { words: 'Settings of an order', to: '/breathing/settings-and-titration/' },
  { words: 'A download to read', to: '/breathing/reading-a-download/' },
  { words: 'Cough device', to: '/cough/mi-e-session/' },
  { words: 'Suction', to: '/secretions/oral-suction/' },
  { words: 'Oxygen flow or cylinder', to: '/oxygen/cylinders/' },
  { words: 'Cleaning and filters', to: '/home/equipment-checks-and-cleaning/' },
];
