/** What a release says of the clinic's own agreement before it is built in. */
import { parse } from 'yaml';
import { Agreement } from '../../calculators/agreement/agreement.ts';
import { fileStem } from '../../calculators/agreement/hand-out.ts';
import { cautionsOf } from '../../calculators/agreement/status.ts';

/**
 * @param file   content/agreement/clinic.yaml, or .json as it was exported
 * @param today  as 2026-11-29
 * @returns a name for the archive, and warnings; the build itself reads the file against the whole handbook
 */
export function clinicRelease(file: string, text: string, today: string): { stem: string; warnings: string[] } {
  const read = Agreement.safeParse(parse(text));
  if (!read.success) throw new Error(`${file} is not an agreement: run npm run build to see what is wrong with it`);
  const warnings = cautionsOf(read.data, undefined, today).map((caution) => `${file}: ${caution}`);
  return { stem: fileStem(read.data), warnings };
}
