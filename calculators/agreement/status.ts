/** How far an agreement has got, and what is wrong with relying on it today. Small: every page carries it. */
import type { Agreement, Status } from './agreement.ts';

type Dated = Pick<Agreement, 'agreed' | 'revision' | 'status' | 'signed'>;

/** A file of the version before does not say; it was made to be used. */
export const statusOf = ({ status }: { status?: Status | undefined }): Status => status ?? 'agreed';

/** 'DRAFT of 2026-11-29', 'revision 2, agreed 2026-11-29', 'agreed 2026-11-29, signed 2026-12-01' */
export function versionWords({ agreed, revision, status, signed }: Dated): string {
  const number = revision === undefined || revision === 1 ? '' : `revision ${revision}, `;
  if (status === 'draft') return `${number}DRAFT of ${agreed}`;
  return `${number}agreed ${agreed}${status === 'signed' && signed ? `, signed ${signed.on}` : ''}`;
}

/** Said at length on the agreement's own screens and on paper. */
export function statusSentence({ agreed, status, signed }: Dated): string {
  switch (status) {
    case 'draft':
      return 'DRAFT: not agreed.';
    case 'agreed':
      return `Agreed in the meeting of ${agreed}; not signed.`;
    case 'signed':
      return signed ? `Signed on ${signed.on} by: ${signed.by.join(', ')}.` : 'Signed.';
    default:
      return `Agreed on ${agreed}. The file does not say whether the agreement was signed.`;
  }
}

/** What a reader has to know before relying on it, on every page and in the note. Empty when nothing is wrong. */
export const cautionsOf = (
  { status, review }: { status?: Status | undefined; review: string },
  /** how many of its criteria stand on evidence that has changed; undefined where nobody has counted */
  changed: number | undefined,
  today: string,
): string[] =>
  [
    status === 'draft' ? 'It is a DRAFT: not agreed.' : '',
    review < today ? `Its review was due ${review}.` : '',
    changed ? changedWords(changed) : '',
  ].filter(Boolean);

export const changedWords = (changed: number): string =>
  `The published evidence behind ${changed === 1 ? 'one of its criteria' : `${changed} of its criteria`} has changed.`;
