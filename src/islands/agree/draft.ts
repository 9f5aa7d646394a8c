/** What a team has put together so far, as typed; and the agreement that it makes. Kept on this device until it is cleared. */
import {
  type AgreedCriterion,
  type Agreement,
  hiddenCharacter,
  type Minutes,
  type Said,
  type Status,
} from '../../../calculators/agreement/agreement.ts';
import { revisionOf } from '../../../calculators/agreement/meeting.ts';
import { type ReadAgreement, readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { statusOf } from '../../../calculators/agreement/status.ts';
import { type Disease, diseases } from '../../../calculators/domain/diseases.ts';
import type { PublishedHere } from '../../agreement/published.ts';
import { today } from '../../browser/today.ts';

export interface Draft {
  clinic: string;
  jurisdiction: string;
  agreedBy: string[];
  agreed: string;
  review: string;
  referenceSet: string;
  group: string;
  staleAfterMonths: string;
  phones: { label: string; number: string }[];
  waits: { what: string; weeks: string }[];
  marks: AgreedCriterion[];
  revision: number | undefined;
  status: Status;
  signedOn: string;
  signedBy: string[];
  present: string[];
  dissent: Said[];
  open: Said[];
  /** pairs of criteria for the same people that are both meant */
  meant: string[][];
}

const key = 'tidemark:agreement-draft';

export const blankDraft = (): Draft => ({
  clinic: '',
  jurisdiction: '',
  agreedBy: [],
  agreed: '',
  review: '',
  referenceSet: '',
  group: '',
  staleAfterMonths: '6',
  phones: [],
  waits: [],
  marks: [],
  revision: undefined,
  status: 'draft',
  signedOn: '',
  signedBy: [],
  present: [],
  dissent: [],
  open: [],
  meant: [],
});

/** Agreed today, to be looked at again in a year: both to be changed. */
export const newDraft = (): Draft => ({ ...blankDraft(), agreed: today(), review: aYearOn(today()) });

const aYearOn = (date: string): string => `${Number(date.slice(0, 4)) + 1}${date.slice(4).replace('-02-29', '-02-28')}`;

export const draftOf = (agreement: Agreement): Draft => ({
  ...blankDraft(),
  clinic: agreement.clinic,
  jurisdiction: agreement.jurisdiction ?? '',
  agreedBy: agreement.agreedBy,
  agreed: agreement.agreed,
  review: agreement.review,
  referenceSet: agreement.referenceSet ?? '',
  group: agreement.group ?? '',
  staleAfterMonths: String(agreement.staleAfterMonths ?? ''),
  phones: agreement.phones,
  waits: agreement.waits.map(({ what, weeks }) => ({ what, weeks: String(weeks) })),
  marks: agreement.marks,
  revision: agreement.revision,
  status: statusOf(agreement),
  signedOn: agreement.signed?.on ?? '',
  signedBy: agreement.signed?.by ?? [],
  present: agreement.minutes?.present ?? [],
  dissent: agreement.minutes?.dissent ?? [],
  open: agreement.minutes?.open ?? [],
  meant: agreement.minutes?.meant ?? [],
});

/** A new meeting about the agreement in force: today's date, the next number, and who was present and who agreed is asked anew. */
export const revisionDraft = (agreement: Agreement): Draft => ({
  ...draftOf(revisionOf(agreement, today(), aYearOn(today()))),
  agreedBy: [],
  present: [],
  dissent: [],
});

/** @returns undefined when none was begun on this device */
export function readDraft(): Draft | undefined {
  try {
    const text = localStorage.getItem(key);
    return text === null ? undefined : { ...blankDraft(), ...(JSON.parse(text) as Draft) };
  } catch {
    return undefined;
  }
}

export function writeDraft(draft: Draft | undefined): void {
  try {
    if (draft === undefined) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(draft));
  } catch {
    // A browser that keeps nothing: the draft lasts as long as the page.
  }
}

/** Where a meeting is. Apart from the draft, so that looking around begins none. */
export interface MeetingPlace {
  disease: Disease | '';
  decision: string;
}

const placeKey = 'tidemark:meeting-place';
const firstPlace: MeetingPlace = { disease: '', decision: '' };

export function readPlace(): MeetingPlace {
  try {
    const { disease = '', decision = '' } = JSON.parse(localStorage.getItem(placeKey) ?? '{}') as Partial<MeetingPlace>;
    return { disease: diseases.find((one) => one === disease) ?? '', decision };
  } catch {
    return firstPlace;
  }
}

export function writePlace(place: MeetingPlace): void {
  try {
    localStorage.setItem(placeKey, JSON.stringify(place));
  } catch {
    // A browser that keeps nothing: the meeting begins with the first decision.
  }
}

/** Another tab's draft is this one's. */
export function whenDraftChanges(changed: (draft: Draft | undefined) => void): () => void {
  const listen = (event: StorageEvent) => event.key === key && changed(readDraft());
  addEventListener('storage', listen);
  return () => removeEventListener('storage', listen);
}

const oneLine = (text: string): string =>
  text.replace(/\s+/g, ' ').replaceAll(new RegExp(hiddenCharacter, 'gu'), '').trim();
const filled = (text: string): string | undefined => oneLine(text) || undefined;
/** A number where it is one; else what was typed, for the message to quote. */
const numberOr = (text: string): number | string =>
  /^\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.trim().replace(',', '.')) : text.trim();

/** The agreement that the draft makes, held to the same rules as a file from anywhere. */
export function readDraftAs(draft: Draft, published: PublishedHere): ReadAgreement {
  const agreement = {
    format: 'tidemark-agreement',
    version: 1,
    clinic: oneLine(draft.clinic),
    jurisdiction: filled(draft.jurisdiction),
    agreed: draft.agreed,
    review: draft.review,
    agreedBy: draft.agreedBy.map(oneLine),
    referenceSet: filled(draft.referenceSet),
    group: filled(draft.group),
    staleAfterMonths: draft.staleAfterMonths.trim() === '' ? undefined : numberOr(draft.staleAfterMonths),
    phones: draft.phones.map(({ label, number }) => ({ label: oneLine(label), number: oneLine(number) })),
    waits: draft.waits.map(({ what, weeks }) => ({ what: oneLine(what), weeks: numberOr(weeks) })),
    evidence: { date: published.data.date },
    marks: draft.marks,
    revision: draft.revision,
    status: draft.status,
    signed:
      draft.status === 'signed' ? { on: draft.signedOn || draft.agreed, by: draft.signedBy.map(oneLine) } : undefined,
    minutes: minutesOf(draft),
  };
  return readAgreement(JSON.stringify(agreement), published);
}

/** Lines that say nothing are left out, as is what no longer belongs to any criterion. */
function minutesOf({ present, dissent, open, meant, marks }: Draft): Minutes | undefined {
  const said = (all: Said[]): Said[] =>
    all
      .map(({ by, says, decision }) => ({
        ...(filled(by ?? '') === undefined ? {} : { by: oneLine(by ?? '') }),
        says: oneLine(says),
        ...(decision === undefined ? {} : { decision }),
      }))
      .filter(({ says }) => says !== '');
  const ids = new Set(marks.map(({ id }) => id));
  const minutes = {
    present: present.map(oneLine),
    dissent: said(dissent),
    open: said(open),
    meant: meant.filter((pair) => pair.every((id) => ids.has(id))),
  };
  const kept = Object.entries(minutes).filter(([, list]) => list.length > 0);
  return kept.length === 0 ? undefined : Object.fromEntries(kept);
}

const fieldNames: Record<string, string> = {
  clinic: 'Name of the clinic',
  jurisdiction: 'Country or region',
  agreed: 'Agreed on',
  review: 'To be reviewed by',
  agreedBy: 'Who agreed',
  signed: 'Who signed',
  minutes: 'Minutes',
  referenceSet: 'Reference set',
  group: 'Group',
  staleAfterMonths: 'Months after which a saved copy is old',
  phones: 'Phone number',
  waits: 'Wait',
  marks: 'Criterion',
};

/** 'phones[1].number' as the screen names it: 'Phone number 2, number' */
export function fieldWords(path: string): string {
  const [, field = '', place, part] = /^(\w+)(?:\[(\d+)\])?(?:\.(.+))?$/.exec(path) ?? [];
  return [`${fieldNames[field] ?? path}${place === undefined ? '' : ` ${Number(place) + 1}`}`, part]
    .filter(Boolean)
    .join(', ');
}

/** An id of its own for a criterion in this agreement. */
export function nextId(draft: Draft, decision: string): string {
  const taken = new Set(draft.marks.map(({ id }) => id));
  for (let number = 1; ; number += 1) if (!taken.has(`${decision}-${number}`)) return `${decision}-${number}`;
}
