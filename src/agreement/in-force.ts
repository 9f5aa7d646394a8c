import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { base } from '../browser/base.ts';
import { digestOf, rememberDigest } from './digest.ts';
import { hasBuiltIn, type Kept, keep, kept, line } from './store.ts';

export async function builtIn(): Promise<Agreement | undefined> {
  if (!hasBuiltIn) return undefined;
  const agreement = await checked(await (await fetch(`${base}data/clinic.json`)).json());
  if (agreement && line?.dataset.digest) rememberDigest(agreement, line.dataset.digest);
  return agreement;
}

/** The agreement in force on this device. What was kept by an earlier version of the site is held to the schema again. */
export async function inForce(): Promise<Agreement | undefined> {
  const now = kept();
  if (now?.on === false) return undefined;
  if (now?.agreement === undefined) return builtIn();
  const agreement = await checked(now.agreement);
  if (agreement === undefined) keep({ ...now, on: false, unreadable: true });
  else await storeDigest(now, agreement);
  return agreement;
}

/** Beside an agreement that was stored without its digest, as earlier versions of the site did, or with another's. */
async function storeDigest(stored: Kept, agreement: Agreement): Promise<void> {
  const digest = await digestOf(agreement);
  if (digest === stored.digest) return;
  const now = kept();
  // Another tab can have put another in its place meanwhile.
  if (JSON.stringify(now) !== JSON.stringify(stored)) return;
  const { digest: _before, ...rest } = stored;
  keep(digest === undefined ? rest : { ...rest, digest });
}

/** The schema is fetched only where there is something to hold to it. */
async function checked(value: unknown): Promise<Agreement | undefined> {
  const { Agreement } = await import('../../calculators/agreement/agreement.ts');
  const read = Agreement.safeParse(value);
  return read.success ? read.data : undefined;
}
