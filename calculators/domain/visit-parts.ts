/** Where on the visit sheet a measure is asked, in the order of a visit. */
export const visitParts = [
  'look',
  'wishes',
  'support',
  'symptoms',
  'gas',
  'cough',
  'blowing',
  'night',
  'nutrition',
  'machine',
  'record',
  'travel',
] as const;
