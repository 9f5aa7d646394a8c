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

export const supportStatusWords: Record<SupportStatus, string> = {
  none: 'none',
  ordered: 'ordered',
  'in-place': 'in place',
  declined: 'declined',
  'not-tolerated': 'not tolerated',
};

/** What was seen and measured in one person at one time. What is missing was not measured. */
export interface Visit extends Person {
  readings: Readonly<Record<string, Reading>>;
  signs: Readonly<Record<string, Sign>>;
  /** by decision */
  supports?: Readonly<Record<string, SupportStatus>> | undefined;
}
