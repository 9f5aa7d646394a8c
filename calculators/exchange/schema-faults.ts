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
        return faultAt(path, lineOf, faultWords(issue, foundAt(value, path)));
      });
    })
    .slice(0, mostFaults);
}

/** A missing field has no line of its own: that of what it is missing from. */
export function faultAt(path: Path, lineOf: (path: Path) => number | undefined, message: string): FileFault {
  for (let length = path.length; length >= 0; length -= 1) {
    const line = lineOf(path.slice(0, length));
    if (line !== undefined) return { path: pathWords(path), line, message };
  }
  return { path: pathWords(path), line: 1, message };
}

function faultWords(issue: z.core.$ZodIssue, found: unknown): string {
  const seen = `, found ${valueWords(found)}`;
  switch (issue.code) {
    case 'unrecognized_keys':
      return 'no field of that name is kept here';
    case 'invalid_type':
      return `expected ${kinds[issue.expected] ?? issue.expected}${seen}`;
    case 'invalid_value':
      return `expected ${issue.values.map((one) => JSON.stringify(one)).join(' or ')}${seen}`;
    case 'too_big':
      return `expected at most ${issue.maximum}${lengthWords[issue.origin] ?? ''}`;
    case 'too_small':
      return `expected at least ${issue.minimum}${lengthWords[issue.origin] ?? ''}${seen}`;
    case 'invalid_key':
      return 'expected a name of lower-case words joined by hyphens';
    default:
      return `${issue.message}${seen}`;
  }
}

const kinds: Record<string, string> = {
  string: 'text',
  number: 'a number',
  array: 'a list',
  object: 'an object',
  record: 'an object',
};
const lengthWords: Record<string, string> = { string: ' characters', array: ' entries' };

function valueWords(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  const words = JSON.stringify(value) ?? 'nothing';
  return words.length > 40 ? `${words.slice(0, 40)}\u2026` : words;
}

function foundAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
