/** Who counts as an adult, and the words for the two sexes that published rules and reference sets are written for. */

/** Adult criteria and adult reference sets count from the eighteenth birthday; those for children end there. */
export const adulthood = 18;

export const isChild = (ageYears: number): boolean => ageYears < adulthood;

export const sexes = ['female', 'male'] as const;
export type Sex = (typeof sexes)[number];

/** On a field where one of the two is chosen. */
export const sexOptions = [
  { value: 'female', label: 'Female' },
  { value: 'male', label: 'Male' },
] as const satisfies { value: Sex; label: string }[];

/** A person of any age, at the start of a sentence. */
export const personOfSex: Record<Sex, string> = { female: 'Woman or girl', male: 'Man or boy' };

/** The adults whom a criterion or a reference set is about. */
export const adultsOfSex: Record<Sex, string> = { female: 'women', male: 'men' };
