/** What the page and its worker say to each other. */
import type { FileProblem } from '../../calculators/night-oximetry/recording.ts';
import type { NightSummary } from '../../calculators/night-oximetry/summary.ts';
import type { Trace } from '../../calculators/night-oximetry/trace.ts';

/** What the reader has answered, by the name of the question. */
export type Answers = Partial<Record<'dateOrder' | 'timeColumn' | 'interval' | 'spo2Column' | 'spo2Signal', string>>;

export interface ToWorker {
  file: Blob;
  answers: Answers;
}

/** A night without its rows: what is drawn and printed. */
export interface Night {
  summary: Omit<NightSummary, 'rows'>;
  trace: Trace;
  startedAt?: string | undefined;
  understood: string[];
  notes: string[];
}

export type FromWorker =
  | { kind: 'progress'; doing: string; share: number }
  | { kind: 'problems'; problems: FileProblem[] }
  | { kind: 'night'; night: Night };
