/** What a note is made of: the visit, what was found, and what was typed beside it. */
import type { Decisions } from '../domain/decision.ts';
import type { Visit } from '../domain/visit.ts';
import type { Evidence, Finding } from '../evaluate/evaluate.ts';

export interface NoteInput {
  visit: Visit;
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sourceName: (id: string) => string;
  /** of the visit, as the reader typed it */
  date: string;
  /** of the handbook's edition: the evidence that the findings rest on */
  evidenceDate: string;
  /** how a date is written for this reader; without it dates stay as they are */
  sayDate?: ((iso: string) => string) | undefined;
  /** who answers and how, as typed */
  answers?: string;
  /** hours in 24 and longest time off a support in place, by decision, as typed */
  supportTimes?: Readonly<Record<string, { hours?: string | undefined; timeOff?: string | undefined }>>;
  /** the visit before this one, with what was found then */
  previous?: { date: string; visit: Visit; findings: readonly Finding[] } | undefined;
  /** what was chosen from a list that no criterion is about, a line each: 'Mode as ordered: ...' */
  chosen?: readonly string[] | undefined;
  /** what was measured then and now, a line each */
  since?: readonly string[];
  /** rates, intervals and dates, a line each: only in a note with statistics */
  statistics?: readonly string[];
  /** payer rules, study figures and statistics are wanted as well */
  withStatistics?: boolean | undefined;
  plan?: readonly PlanLine[];
  /** what is asked, of whom, and by when (a date), as typed */
  asked?: string;
  askedOf?: string;
  askedBy?: string;
  /** whom the person can call, as typed */
  contacts?: string;
  /** the clinic agreement in force: its name, and its digest as text where this browser works one out */
  agreement?: { name: string; digest: string | undefined; cautions?: readonly string[] } | undefined;
}

/** Something that will be arranged. */
export interface PlanLine {
  what: string;
  owner: string;
  /** a date, or empty */
  due: string;
  state: string;
}

export const dateIn = ({ sayDate = (iso) => iso }: NoteInput, date: string): string => sayDate(date);

export const filledLines = (text: string): string[] => text.split('\n').filter((line) => line.trim() !== '');

/** What was planned, the earliest date first; what has no date comes last. */
export const inOrderOfDates = (plan: readonly PlanLine[]): PlanLine[] =>
  plan.filter(({ what }) => what.trim() !== '').sort((a, b) => (a.due || '9999').localeCompare(b.due || '9999', 'en'));
