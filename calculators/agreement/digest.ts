/**
 * What an agreement's digest is worked out from, and how it is written. The digest is the first 128 bits of the SHA-256
 * of the canonical text. SHA-256 itself is the platform's own (src/agreement/digest.ts).
 *
 * The canonical text is the agreement as JSON without spaces, the fields of each object sorted by name, lists in their
 * own order, in UTF-8. Anyone can repeat it without this program: .github/decisions/0023-the-digest-is-sha-256.md.
 */
import type { Agreement } from './agreement.ts';
import { stable } from './local-criteria.ts';

export const canonicalText = (agreement: Agreement): string => stable(agreement);

/** The first 16 bytes in groups of four digits, as people compare them aloud: 'ba78 16bf ...' */
export const digestGroups = (hash: Uint8Array): string =>
  (
    Array.from(hash.subarray(0, 16), (byte) => byte.toString(16).padStart(2, '0'))
      .join('')
      .match(/.{4}/g) ?? []
  ).join(' ');

/** @param digest  undefined where the browser works out none: it does so only over https and on this computer itself */
export const digestWords = (digest: string | undefined): string =>
  digest === undefined ? 'no digest in this browser over http' : `digest ${digest}`;

/** The copy of the handbook that a paper or a note was made with. */
export interface Edition {
  version: string;
  /** day of the build, as 2026-11-29 */
  built: string;
}

export const editionWords = ({ version, built }: Edition): string => `handbook ${version}, built ${built}`;

/** Which agreement, which text of it, and which handbook: for papers, notes and files. */
export const agreementLine = (
  { clinic, agreed, review }: Pick<Agreement, 'clinic' | 'agreed' | 'review'>,
  digest: string | undefined,
  edition: Edition,
): string =>
  `Agreement of ${clinic}, agreed ${agreed}, review due ${review}: ${digestWords(digest)}; ${editionWords(edition)}.`;
