/** A night's recording, whatever file it came from, and the problems that keep one from being read. */

/** Saturation, and pulse where there is one, against time. All arrays are of one length. */
export interface Recording {
  /** wall clock at the first row as the file gives it: '2026-11-20T22:41:00', or '22:41:00' when it gives no date */
  startedAt?: string;
  /** seconds since the first row, never falling */
  seconds: Float64Array;
  /** per cent; NaN where the file has no number */
  spo2: Float32Array;
  /** beats a minute; NaN where the file has no number */
  pulse?: Float32Array;
}

/** Something a reader has to decide, because the file can be read in more than one way. */
export interface Question {
  /** which option of the reader it settles */
  sets: 'dateOrder' | 'timeColumn' | 'interval' | 'spo2Column' | 'spo2Signal';
  choices: { value: string; label: string }[];
}

export interface FileProblem {
  /** counted from 1 */
  line?: number;
  /** counted from 0 */
  byte?: number;
  message: string;
  question?: Question;
}

export type ReadRecording =
  | {
      ok: true;
      recording: Recording;
      /** how the file was understood, so that a reader can see a wrong guess: which column, which date form */
      understood: string[];
      /** what was odd and was left out or corrected; always shown */
      notes: string[];
    }
  | { ok: false; problems: FileProblem[] };

/** Longer than any night: beyond it the time column was misunderstood. */
export const longestHours = 48;

export const unread = (problem: FileProblem): ReadRecording => ({ ok: false, problems: [problem] });

/** '02:05:09' */
export function clock(secondsOfDay: number): string {
  const whole = ((Math.floor(secondsOfDay) % 86400) + 86400) % 86400;
  return [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60]
    .map((part) => String(part).padStart(2, '0'))
    .join(':');
}
