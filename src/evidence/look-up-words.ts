/** Schema of content/look-up.yaml: the words by which pages are looked up. */
import { text, z } from '../../calculators/domain/schema.ts';
import type { LookUp } from '../search/rank.ts';

export const LookUpWords = z.strictObject({
  passing: text,
  same: z.array(z.array(text).check(z.minLength(2))),
  spellings: z.array(z.tuple([text, text])),
});

export const lookUpOf = ({ passing, ...rest }: z.infer<typeof LookUpWords>): LookUp => ({
  ...rest,
  passing: passing.split(/\s+/),
});
