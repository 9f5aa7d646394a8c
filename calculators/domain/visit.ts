import type { UnitCode } from '../quantity.ts';
import type { Person } from './person.ts';

/** One value of a measure, as it was taken. */
export interface Reading {
  value: number;
  unit: UnitCode;
  /** ids of the measure's flags: leak, poor effort, tired */
  flags?: readonly string[] | undefined;
  posture?: 'upright' | 'supine' | undefined;
  /** what was breathed; unknown is not air */
  gas?: 'air' | 'oxygen' | 'ventilation' | undefined;
  method?: string | undefined;
  /** when it was computed from other readings, which */
  from?: readonly string[] | undefined;
}

export type Sign = 'present' | 'absent';

export const supportStatuses = ['none', 'ordered', 'in-place', 'declined', 'not-tolerated'] as const;
export type SupportStatus = (typeof supportStatuses)[number];

/** How far something that was arranged has come. */
export const planStates = ['asked', 'ordered', 'delivered', 'fitted', 'in use', 'CO2 re-checked'] as const;

export const supportStatusWords: Record<SupportStatus, string> = {
  none: 'none',
  ordered: 'ordered',
  'in-place': 'in place',
  declined: 'declined',
  'not-tolerated': 'not tolerated',
};

/** What the person wants, as far as it has been talked about. Wishes change how findings are spoken, never which are met. */
export const wishList = [
  'everything',
  'no-hospital',
  'comfort-only',
  'no-ventilation',
  'no-invasive-ventilation',
  'not-discussed',
] as const;
export type Wish = (typeof wishList)[number];

export const wishWords: Record<Wish, string> = {
  everything: 'Wants all support that can help',
  'no-hospital': 'Does not want to go to hospital',
  'comfort-only': 'Wants comfort only',
  'no-ventilation': 'Does not want ventilation',
  'no-invasive-ventilation': 'Does not want invasive ventilation',
  'not-discussed': 'Not discussed yet',
};

/** What was seen and measured in one person at one time. What is missing was not measured. */
export interface Visit extends Person {
  readings: Readonly<Record<string, Reading>>;
  signs: Readonly<Record<string, Sign>>;
  /** by decision */
  supports?: Readonly<Record<string, SupportStatus>> | undefined;
  wishes?: readonly Wish[] | undefined;
  /** why a measure has no reading, by measure */
  notDone?: Readonly<Record<string, string>> | undefined;
  /** what was chosen from a list that no criterion is about, by its id: the ventilator's mode, how the height was got */
  choices?: Readonly<Record<string, string>> | undefined;
  /** in the reader's own words */
  remark?: string | undefined;
}
