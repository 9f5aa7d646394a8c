/** The digest of an agreement, worked out by the browser, and by Node when the site is built: calculators/agreement/digest.ts. */
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { canonicalText, digestGroups } from '../../calculators/agreement/digest.ts';

/** Digests that came with the site: worked out when it was built, for a browser that works out none. */
const fromBuild = new Map<string, string>();
export const rememberDigest = (agreement: Agreement, digest: string): void => {
  fromBuild.set(canonicalText(agreement), digest);
};

/** @returns undefined in a browser that offers no SHA-256: over plain http it does not */
export async function digestText(text: string): Promise<string | undefined> {
  // The type promises it; over http it is missing.
  const { subtle } = crypto as Partial<Crypto>;
  if (subtle === undefined) return undefined;
  return digestGroups(new Uint8Array(await subtle.digest('SHA-256', new TextEncoder().encode(text))));
}

export async function digestOf(agreement: Agreement): Promise<string | undefined> {
  const text = canonicalText(agreement);
  return fromBuild.get(text) ?? (await digestText(text));
}
