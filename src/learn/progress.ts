/**
 * What a student has done, on this device only: first answers and tries, cases compared, mixed checks, each with its day.
 * Nothing about any person, nothing sent anywhere; one tap clears it. How it changes is worked out in
 * calculators/learning/record.ts.
 */
import {
  type Asked,
  afterTry,
  type Check,
  type Compared,
  type Done,
  type Try,
} from '../../calculators/learning/record.ts';
import { editionHere } from '../agreement/edition.ts';
import { today } from '../browser/today.ts';

const key = 'tidemark:progress';
export const progressChanged = 'tidemark:progress-changed';

/** As many mixed checks as one record keeps. */
const mostChecks = 20;

export interface Progress extends Done {
  questions: Record<string, Asked>;
  cases: Record<string, Compared>;
  /** the last may be unfinished */
  checks: Check[];
}

type Loose = Record<string, unknown>;
const isObject = (value: unknown): value is Loose =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isDay = (value: unknown): value is string => typeof value === 'string' && /^\d{4}-\d\d-\d\d$/.test(value);
const isCount = (value: unknown): value is number => Number.isInteger(value) && (value as number) >= 0;

const isTry = (value: unknown): value is Try =>
  isObject(value) && isDay(value.day) && isCount(value.option) && typeof value.right === 'boolean';

/** Earlier versions kept only the day of the right answer. */
function askedFrom(value: unknown): Asked | undefined {
  if (isDay(value)) return { tries: 1, right: value };
  if (!isObject(value) || !isCount(value.tries)) return undefined;
  const back = isObject(value.back) && isCount(value.back.remembered) && isDay(value.back.due) ? value.back : undefined;
  return {
    tries: value.tries,
    ...(isTry(value.first) ? { first: value.first } : {}),
    ...(isDay(value.right) ? { right: value.right } : {}),
    ...(back ? { back: back as unknown as NonNullable<Asked['back']> } : {}),
  };
}

function comparedFrom(value: unknown): Compared | undefined {
  if (isDay(value)) return { day: value, tries: 1 };
  if (!isObject(value) || !isDay(value.day) || !isCount(value.tries)) return undefined;
  return {
    day: value.day,
    tries: value.tries,
    ...(isCount(value.agreed) && isCount(value.of) ? { agreed: value.agreed, of: value.of } : {}),
  };
}

function checkFrom(value: unknown): Check[] {
  if (!isObject(value) || !isDay(value.day) || !Array.isArray(value.ids) || !isObject(value.first)) return [];
  const first = Object.entries(value.first).filter(
    (entry): entry is [string, boolean] => typeof entry[1] === 'boolean',
  );
  return [
    {
      day: value.day,
      edition: String(value.edition ?? ''),
      ids: value.ids.filter((id) => typeof id === 'string'),
      first: Object.fromEntries(first),
    },
  ];
}

const each = <T>(value: unknown, read: (one: unknown) => T | undefined): Record<string, T> =>
  Object.fromEntries(
    Object.entries(isObject(value) ? value : {}).flatMap(([id, one]) => {
      const found = read(one);
      return found === undefined ? [] : [[id, found]];
    }),
  );

/** What cannot be read counts as nothing done. */
export function progress(): Progress {
  let stored: unknown;
  try {
    stored = JSON.parse(localStorage.getItem(key) ?? '{}');
  } catch {
    stored = undefined;
  }
  const { questions, cases, checks } = isObject(stored) ? stored : ({} as Loose);
  return {
    questions: each(questions, askedFrom),
    cases: each(cases, comparedFrom),
    checks: Array.isArray(checks) ? checks.flatMap(checkFrom) : [],
  };
}

function keep(next: Progress): void {
  try {
    localStorage.setItem(key, JSON.stringify(next));
  } catch {
    // a browser that keeps nothing: the lesson works all the same, and forgets
  }
  dispatchEvent(new CustomEvent(progressChanged));
}

export const editionWords = (): string => {
  const { version, built } = editionHere();
  return `${version}, ${built}`;
};

/** An answer to a question, right or wrong; in a mixed check the first one counts there too. */
export function answered(id: string, option: number, right: boolean): void {
  const now = progress();
  const one = { day: today(), option, right, edition: editionWords() };
  keep({
    ...now,
    questions: { ...now.questions, [id]: afterTry(now.questions[id], one) },
  });
}

export function compared(id: string, agreed: number, of: number): void {
  const now = progress();
  const before = now.cases[id];
  const next = before ? { ...before, tries: before.tries + 1 } : { day: today(), agreed, of, tries: 1 };
  keep({ ...now, cases: { ...now.cases, [id]: next } });
}

/** A new mixed check; one that was left unfinished is given up. */
export function beginCheck(ids: string[]): void {
  const now = progress();
  const finished = now.checks.filter((check) => check.ids.every((id) => id in check.first));
  const next = { day: today(), edition: editionWords(), ids, first: {} };
  keep({ ...now, checks: [...finished, next].slice(-mostChecks) });
}

/** The first answer to a question of the check that is under way. */
export function answeredInCheck(id: string, right: boolean): void {
  const now = progress();
  const last = now.checks.at(-1);
  if (!last?.ids.includes(id) || id in last.first) return;
  keep({
    ...now,
    checks: [...now.checks.slice(0, -1), { ...last, day: today(), first: { ...last.first, [id]: right } }],
  });
}

export function clear(): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // as above
  }
  dispatchEvent(new CustomEvent(progressChanged));
}

/** By question, the day on which it was first answered correctly. */
export const daysOf = ({ questions }: Progress): Record<string, string | undefined> =>
  Object.fromEntries(Object.entries(questions).map(([id, { right }]) => [id, right]));

// The server, which prints the form of a case, has nothing to listen to.
globalThis.addEventListener?.('storage', (event) => {
  if (event.key === key || event.key === null) dispatchEvent(new CustomEvent(progressChanged));
});
