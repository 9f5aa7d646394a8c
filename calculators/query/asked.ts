/** What a typed line is understood to ask, in the shapes that the search shows. */
import type { RawInputs } from '../calculator.ts';
import { isAcute } from '../domain/diseases.ts';
import type { Person } from '../domain/person.ts';
import type { Reading, Sign, SupportStatus, Visit, Wish } from '../domain/visit.ts';
import type { Quantity, UnitCode } from '../quantity.ts';

/** `child` where the line says so, with or without an age. */
export interface AskedPerson extends Person {
  child?: true | undefined;
}

/** One reading and nothing else that bears on a visit. */
export interface AskedReading {
  kind: 'reading';
  measure: string;
  reading: Reading;
  person: AskedPerson;
  /** what the line said about the reading, in words */
  told: string[];
  /** what was taken for granted, in words */
  assumed: string[];
  /** words and numbers of the line that had no part in the answer */
  unused: string[];
}

/** A calculation that one of the calculators does. */
export interface AskedSum {
  kind: 'sum';
  calculator: string;
  title: string;
  inputs: RawInputs;
  person: AskedPerson;
  assumed: string[];
  unused: string[];
}

/** A calculation that the line names, with the numbers and choices that were taken out of the line for it. */
export interface TakenCalculation {
  calculator: string;
  numbers: Record<string, Quantity>;
  choices: Record<string, string>;
  /** units that were taken for granted, in words */
  assumed: string[];
}

/** The number fits more than one measure, unit or device: the reader chooses. */
export interface Ambiguous {
  kind: 'ask';
  options: (AskedReading | AskedSum)[];
}

/** A number that cannot be compared as it stands, and what to type instead. */
export interface Hint {
  kind: 'hint';
  say: string;
  page?: string;
}

/** Understood, but no criterion is about it: a pH, a pressure that was set, a segment that was measured. */
export interface Other {
  label: string;
  /** the number with its unit, as typed */
  typed: string;
  /** the number itself, where there is one */
  value?: number | undefined;
}

/** Words that are an emergency and that no sign stands for. */
export interface Danger {
  /** address of the page that says what to do, from the site's root */
  page: string;
  typed: string;
  /** what it may be, in words */
  as?: string | undefined;
}

/** Values of one measure over time, oldest first. The last is the reading now, and stands among the readings. */
export interface SeriesTold {
  measure: string;
  values: number[];
  unit: UnitCode;
  /** from the first to the last, where the line says it */
  overMonths?: number | undefined;
}

/** A fall that the line tells without its values. */
export interface FallTold {
  /** of what; not known in 'down 10 points' alone */
  measure?: string | undefined;
  by: number;
  /** `points` of per cent; `%` can be points or a share of the earlier value */
  unit: UnitCode | 'points';
  overMonths?: number | undefined;
}

/** A reading taken asleep. No criterion compares it by itself: it is not among the readings. */
export interface AsleepTold {
  measure: string;
  reading: Reading;
  /** measures of the night that would say whether it counts: the time spent there, the rise over awake */
  needs: string[];
}

/** A subject that has a page. */
export interface Topic {
  id: string;
  /** from the site's root */
  page: string;
  /** the heading that answers, and its address in the page */
  section?: string | undefined;
  anchor?: string | undefined;
  /** the answer in a sentence */
  says?: string | undefined;
  typed: string;
}

/** How long the disease has been there. */
export interface Duration {
  months: number;
  typed: string;
}

/**
 * A visit in one line: a sign, a support, a disease that has an urgent page, a person alone, or several readings. What was
 * not understood is listed and has no part in the rest.
 */
export interface AskedVisit {
  kind: 'visit';
  person: AskedPerson;
  /** by measure; where one measure was read twice, the one on room air, else the first */
  readings: Record<string, Reading>;
  signs: Record<string, Sign>;
  /** by decision */
  supports: Record<string, SupportStatus>;
  wishes: Wish[];
  /** every reading with what was said and assumed about it */
  parts: AskedReading[];
  /** numbers that can be read in more than one way; none of them is among the readings */
  asks: Ambiguous[];
  /** numbers that cannot be compared as they stand */
  hints: Hint[];
  others: Other[];
  /** of those, what the visit sheet has a field for: no criterion compares it */
  forSheet: Record<string, Reading>;
  dangers: Danger[];
  /** the words of the line that a sign or a support rests on, by its id */
  because: Record<string, string>;
  understood: string[];
  assumed: string[];
  notUnderstood: string[];
  /** calculations that the line asks for by name */
  taken?: TakenCalculation[];
  series?: SeriesTold[] | undefined;
  falls?: FallTold[] | undefined;
  asleep?: AsleepTold[] | undefined;
  duration?: Duration | undefined;
  topics?: Topic[] | undefined;
  /** words of a question: to be looked up among the pages, and no misunderstanding */
  asked?: string[] | undefined;
}

/** A visit in which nothing was said. */
export const emptyVisit: AskedVisit = {
  kind: 'visit',
  person: {},
  readings: {},
  signs: {},
  supports: {},
  wishes: [],
  parts: [],
  asks: [],
  hints: [],
  others: [],
  forSheet: {},
  dangers: [],
  because: {},
  understood: [],
  assumed: [],
  notUnderstood: [],
};

export type Query = AskedReading | AskedSum | Ambiguous | Hint | AskedVisit | undefined;

/** Said among what was assumed where nobody told what was breathed. */
export const gasUnknown = 'nothing about what was breathed';

/** Said among what was assumed, where a length of time stands alone after a disease. */
export const lengthNotAge = (duration: Duration | undefined): string =>
  duration === undefined ? '' : `\u201c${duration.typed}\u201d is how long, not the age`;

/** Nothing that a criterion could be about: the disease, a support or an age alone. Its pages are the answer then. */
export const saysNothing = (asked: NonNullable<Query>): boolean =>
  asked.kind === 'visit' &&
  (asked.taken ?? []).length === 0 &&
  [asked.readings, asked.signs].every((some) => Object.keys(some).length === 0) &&
  // What was assumed, as an age, is offered to be changed.
  [asked.asks, asked.hints, asked.others, asked.dangers, asked.asleep ?? [], asked.falls ?? []].every(
    ({ length }) => length === 0,
  ) &&
  asked.assumed.every((words) => words === lengthNotAge(asked.duration)) &&
  !(asked.person.disease !== undefined && isAcute(asked.person.disease));

/** What was understood, in the structure that the visit sheet fills. */
export function visitOf(asked: AskedReading | AskedVisit): Visit {
  const { child: _, ...person } = asked.person;
  if (asked.kind === 'reading') return { ...person, readings: { [asked.measure]: asked.reading }, signs: {} };
  const { readings, signs, supports, wishes } = asked;
  return { ...person, readings, signs, supports, ...(wishes.length > 0 ? { wishes } : {}) };
}
