import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { base } from '../browser/base.ts';
import { hasBuiltIn, keep, kept } from './store.ts';

export async function builtIn(): Promise<Agreement | undefined> {
  if (!hasBuiltIn) return undefined;
  return checked(await (await fetch(`${base}data/clinic.json`)).json());
}

/** The agreement in force on this device. What was kept by an earlier version of the site is held to the schema again. */
export async function inForce(): Promise<Agreement | undefined> {
  const now = kept();
  if (now?.on === false) return undefined;
  if (now?.agreement === undefined) return builtIn();
  const agreement = await checked(now.agreement);
  if (agreement === undefined) keep({ ...now, on: false, unreadable: true });
  return agreement;
}

/** The schema is fetched only where there is something to hold to it. */
async function checked(value: unknown): Promise<Agreement | undefined> {
  const { Agreement } = await import('../../calculators/agreement/agreement.ts');
  const read = Agreement.safeParse(value);
  return read.success ? read.data : undefined;
}
