/**
 * What a student has done, on this device only: which questions were answered rightly and which cases were compared, each
 * with its day. Nothing about any person, nothing sent anywhere; one tap clears it.
 */
import { today } from '../browser/today.ts';

const key = 'tidemark:progress';
export const progressChanged = 'tidemark:progress-changed';

export interface Progress {
  /** by question, the day it was answered rightly */
  questions: Record<string, string>;
  /** by case, the day it was compared */
  cases: Record<string, string>;
}

const isDays = (value: unknown): value is Record<string, string> =>
  typeof value === 'object' && value !== null && Object.values(value).every((day) => typeof day === 'string');

/** What cannot be read counts as nothing done. */
export function progress(): Progress {
  try {
    const stored: unknown = JSON.parse(localStorage.getItem(key) ?? '{}');
    const { questions, cases } = stored as Partial<Progress>;
    return { questions: isDays(questions) ? questions : {}, cases: isDays(cases) ? cases : {} };
  } catch {
    return { questions: {}, cases: {} };
  }
}

export function done(kind: keyof Progress, id: string): void {
  const now = progress();
  if (now[kind][id] !== undefined) return;
  const next = { ...now, [kind]: { ...now[kind], [id]: today() } };
  try {
    localStorage.setItem(key, JSON.stringify(next));
  } catch {
    // a browser that keeps nothing: the lesson works all the same, and forgets
  }
  dispatchEvent(new CustomEvent(progressChanged));
}

export function clear(): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // as above
  }
  dispatchEvent(new CustomEvent(progressChanged));
}

/** The last of the days on which the parts of something were done; none while one is missing. */
export function dayOfAll(ids: readonly string[], days: Record<string, string>): string | undefined {
  const found = ids.map((id) => days[id]);
  return found.length === 0 || found.includes(undefined) ? undefined : found.sort().at(-1);
}

// The server, which prints the form of a case, has nothing to listen to.
globalThis.addEventListener?.('storage', (event) => {
  if (event.key === key || event.key === null) dispatchEvent(new CustomEvent(progressChanged));
});
