import { text, z } from '../domain/schema.ts';

/** In the order of a visit. */
export const competencyGroups = [
  'observe',
  'measure',
  'read the criteria',
  'support',
  'keep safe',
  'tell others',
] as const;

/** Something a student can do at the end of orientation, as a teacher would tick it. */
export const Competency = z.object({
  /** completes 'The student can ...' */
  says: text,
  group: z.enum(competencyGroups),
});
export type Competency = z.infer<typeof Competency>;
