/**
 * What an agreement's digest is worked out from, and how it is written. The digest is the first 128 bits of the SHA-256
 * of the canonical text. SHA-256 itself is the platform's own (src/agreement/digest.ts).
 *
 * The canonical text is the agreement as JSON without spaces, the fields of each object sorted by name, lists in their
 * own order, in UTF-8. Anyone can repeat it without this program: .github/decisions/0023-the-digest-is-sha-256.md.
 *
 * It leaves out how far the agreement has got, so that the paper printed for signing and the agreement recorded as signed
 * have the same digest; and what each criterion beside it said then, which the QR code has no room for
 * (.github/decisions/0026-what-the-digest-leaves-out.md).
 */
import type { Agreement } from './agreement.ts';
import { stable } from './local-criteria.ts';
import { versionWords } from './status.ts';

export const canonicalText = ({ status: _status, signed: _signed, marks, ...rest }: Agreement): string =>
  stable({ ...rest, marks: marks.map(({ was: _was, ...criterion }) => criterion) });

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
  agreement: Pick<Agreement, 'clinic' | 'agreed' | 'review' | 'revision' | 'status' | 'signed'>,
  digest: string | undefined,
  edition: Edition,
): string =>
  `Agreement of ${agreement.clinic}, ${versionWords(agreement)}, review due ${agreement.review}: ${digestWords(digest)}; ${editionWords(edition)}.`;
