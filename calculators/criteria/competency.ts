import { text, z } from './schema.ts';

/** Something a student can do at the end of orientation, as a teacher would tick it. */
export const Competency = z.object({
  /** completes 'The student can ...' */
  says: text,
  group: z.enum(['observe', 'measure', 'read the marks', 'support', 'keep safe', 'tell others']),
});
export type Competency = z.infer<typeof Competency>;
