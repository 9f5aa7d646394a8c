/** What a schema did not accept in a file, each with its place, its line and what was expected, in words. */

import type { z } from '../domain/schema.ts';
import { type Path, pathWords } from './located-json.ts';

export interface FileFault {
  /** 'visits[2].readings.snip.text'; empty for the whole file */
  path: string;
  /** counted from 1 */
  line: number;
  message: string;
}

const mostFaults = 20;

/** @returns at most twenty faults, first places first: more help nobody */
export function schemaFaults(
  issues: readonly z.core.$ZodIssue[],
  value: unknown,
  lineOf: (path: Path) => number | undefined,
): FileFault[] {
  return issues
    .flatMap((issue) => {
      const names = issue.code === 'unrecognized_keys' ? issue.keys : [undefined];
      return names.map((name) => {
        const steps = name === undefined ? issue.path : [...issue.path, name];
        const path = steps.map((step) => (typeof step === 'symbol' ? step.toString() : step));
        return faultAt(path, lineOf, issueWords(issue, valueAt(value, path)));
      });
    })
    .slice(0, mostFaults);
}

/** A missing field has no line of its own: that of what it is missing from. */
export function nearestLine(path: Path, lineOf: (path: Path) => number | undefined): number | undefined {
  for (let length = path.length; length >= 0; length -= 1) {
    const line = lineOf(path.slice(0, length));
    if (line !== undefined) return line;
  }
  return undefined;
}

export const faultAt = (path: Path, lineOf: (path: Path) => number | undefined, message: string): FileFault => ({
  path: pathWords(path),
  line: nearestLine(path, lineOf) ?? 1,
  message,
});

/** 'expected a number, found "six"' */
export function issueWords(issue: z.core.$ZodIssue, value: unknown): string {
  if (issue.code === 'unrecognized_keys') return 'no field of that name is kept here';
  if (issue.code === 'invalid_key') return 'expected a name of lower-case words joined by hyphens';
  const entries = Array.isArray(value) ? 'entries' : typeof value === 'string' ? 'characters' : undefined;
  if (entries !== undefined && issue.code === 'too_big')
    return `expected at most ${thousands(Number(issue.maximum))} ${entries}, found ${thousands(sizeOf(value))}`;
  if (entries !== undefined && issue.code === 'too_small')
    return entries === 'entries' ? 'expected at least one entry, found none' : 'expected some text, found ""';
  return `expected ${wantedWords(issue)}, found ${foundWords(value)}`;
}

function wantedWords(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return kinds[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.join(', ')}`;
    case 'too_big':
      return `at most ${issue.maximum}`;
    case 'too_small':
      return `at least ${issue.minimum}`;
    default:
      return issue.message.replace(/^expected /, '');
  }
}

const kinds: Record<string, string> = {
  string: 'some text',
  number: 'a number',
  array: 'a list',
  object: 'a group of fields',
  record: 'a group of fields',
};

/** What stands where something else was expected, short enough for a message. */
export function foundWords(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'a group of fields';
  if (typeof value === 'string') return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}\u2026` : value);
  return String(value);
}

const sizeOf = (value: unknown): number => (typeof value === 'string' || Array.isArray(value) ? value.length : 0);

/** 2400 becomes '2,400'. */
export const thousands = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ',');

/** What stands at a place of a file; undefined where there is nothing. */
export function valueAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
