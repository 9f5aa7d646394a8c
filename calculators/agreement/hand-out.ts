/** An agreement for other programs: a table for a spreadsheet, a day for a calendar, a name for its file. */

import { csv } from '../exchange/csv.ts';
import { units } from '../quantity.ts';
import type { AgreedCriterion, Agreement } from './agreement.ts';
import { originWords } from './agreement-words.ts';
import { criterionWords, peopleWords } from './criterion-words.ts';
import type { Published } from './local-criteria.ts';
import { statusOf } from './status.ts';

/** 'tern-valley-2026-11-29-revision-2-DRAFT': which clinic's, and which version, seen in a list of files */
export function fileStem({ clinic, agreed, revision, status }: Agreement): string {
  const name = clinic
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 50)
    .replace(/^-+|-+$/g, '');
  return [
    name || 'clinic',
    agreed,
    revision === undefined ? '' : `revision-${revision}`,
    status === 'draft' ? 'DRAFT' : '',
  ]
    .filter(Boolean)
    .join('-');
}

/** Every criterion in a row, with a byte order mark before them, so that a spreadsheet reads the letters as they are. */
export function agreementCsv(
  agreement: Agreement,
  published: Published,
  sourceName: (id: string) => string,
  digest: string | undefined,
): string {
  const head = ['Decision', 'Criterion', 'For whom', 'Threshold', 'Unit', 'From', 'Reason', 'Evidence reviewed'];
  const row = (criterion: AgreedCriterion) => [
    published.decisions[criterion.decision]?.title ?? criterion.decision,
    criterionWords(criterion, published.measures),
    peopleWords(criterion),
    criterion.value === undefined ? criterion.comparator : `${criterion.comparator} ${criterion.value}`,
    criterion.unit === undefined ? '' : units[criterion.unit].symbol,
    originWords(criterion, published, sourceName),
    criterion.reason ?? '',
    criterion.looked ?? '',
  ];
  return `\ufeff${csv([
    ['Clinic', agreement.clinic],
    ['Status', statusOf(agreement)],
    ['Agreed', agreement.agreed],
    ['Review', agreement.review],
    ['Digest', digest ?? ''],
    ...agreement.phones.map(({ label, number }) => [`Call: ${label}`, number]),
    ...agreement.waits.map(({ what, weeks }) => [`Wait: ${what}`, `${weeks} weeks`]),
    [],
    head,
    ...agreement.marks.map(row),
  ])}`;
}

const escaped = (text: string): string => text.replace(/[\\;,]/g, '\\$&').replaceAll('\n', '\\n');

/** A line of a calendar file holds 75 bytes; a longer one goes on after a space. */
function folded(line: string): string {
  const bytes = new TextEncoder();
  let out = '';
  let room = 75;
  for (const character of line) {
    const size = bytes.encode(character).length;
    if (size > room) {
      out += '\r\n ';
      room = 74;
    }
    out += character;
    room -= size;
  }
  return out;
}

const compact = (date: string): string => date.replaceAll('-', '');

/** The review as a whole day, with a reminder four weeks before. */
export function reviewCalendar(agreement: Agreement): string {
  const { clinic, agreed, review } = agreement;
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//tidemark//clinic agreement//EN',
    'BEGIN:VEVENT',
    `UID:${fileStem(agreement)}-review@tidemark.invalid`,
    `DTSTAMP:${compact(agreed)}T000000Z`,
    `DTSTART;VALUE=DATE:${compact(review)}`,
    `SUMMARY:${escaped(`Review of the clinic agreement, ${clinic}`)}`,
    `DESCRIPTION:${escaped(`Agreed ${agreed}. Open it, review the evidence that has changed, and agree on a new version.`)}`,
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    'TRIGGER:-P28D',
    `DESCRIPTION:${escaped(`The clinic agreement of ${clinic} is due for review in four weeks`)}`,
    'END:VALARM',
    'END:VEVENT',
    'END:VCALENDAR',
    '',
  ]
    .map(folded)
    .join('\r\n');
}
