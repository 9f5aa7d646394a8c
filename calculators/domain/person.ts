import { sexes } from './age-and-sex.ts';
import { diseases } from './diseases.ts';
import { z } from './schema.ts';

export { diseaseShort } from './disease-short.ts';
export { diseaseNames, diseases, isAcute } from './diseases.ts';

export const Disease = z.enum(diseases);
export type Disease = z.infer<typeof Disease>;

export const Sex = z.enum(sexes);
export type Sex = z.infer<typeof Sex>;

/** The person at this visit. Everything may be missing, and what is missing is never assumed. */
export interface Person {
  disease?: Disease | undefined;
  ageYears?: number | undefined;
  sex?: Sex | undefined;
  heightCm?: number | undefined;
}
