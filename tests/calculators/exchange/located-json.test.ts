/** What a file may hold at most: the place of each value is held in memory. */
import { expect, test } from 'vitest';
import { mostFields, mostValues, readLocatedJson } from '../../../calculators/exchange/located-json.ts';

const messageOf = (text: string): string => {
  const read = readLocatedJson(text);
  return read.ok ? 'read' : `${read.line}: ${read.message}`;
};

test('as many values as the limit are read, one more is refused with its line', () => {
  const list = (values: number) => `[\n${Array(values).fill('0').join(',')}]`;
  expect(messageOf(list(mostValues - 1))).toBe('read');
  expect(messageOf(list(mostValues))).toBe(`2: more than ${mostValues} values`);
});

test('as many fields in a group as the limit are read, one more is refused with its line', () => {
  const group = (fields: number) => `{${Array.from({ length: fields }, (_, at) => `"field${at}":${at}`).join(',\n')}}`;
  expect(messageOf(group(mostFields))).toBe('read');
  expect(messageOf(group(mostFields + 1))).toBe(`${mostFields + 1}: more than ${mostFields} fields`);
});
