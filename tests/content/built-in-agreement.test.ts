import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { agreementText, limits } from '../../calculators/agreement/agreement.ts';
import { agreementFromYaml } from '../../src/agreement/yaml.ts';
import { agreement, published } from '../calculators/agreement/agreement-setup.ts';

const file = 'content/agreement/clinic.yaml';
const demonstration = readFileSync('content/agreement/demo-tern-valley.yaml', 'utf8');

/** What stops the build; 'none' when nothing does. */
function stopped(text: string): string[] {
  try {
    agreementFromYaml(file, text, published);
    return ['none'];
  } catch (error) {
    return (error as Error).message.split('\n');
  }
}
const edited = (from: string, to: string): string => {
  expect(demonstration.split(from).length).toBeGreaterThan(1);
  return demonstration.replace(from, () => to);
};
/** Where a text first stands in the demonstration. */
const lineOf = (text: string): number => demonstration.slice(0, demonstration.indexOf(text)).split('\n').length;

test('the demonstration can be built in as it is written', () => {
  const { agreement: read } = agreementFromYaml(file, demonstration, published);
  expect([read.clinic, read.marks.length]).toEqual(['Tern Valley Neuromuscular Clinic (demonstration, invented)', 10]);
});

test('a file exported from the agreement page can be built in as it is', () => {
  expect(agreementFromYaml(file, agreementText(agreement()), published).agreement).toEqual(agreement());
});

test('a type of YAML makes nothing but the text that it stands before', () => {
  const { agreement: read } = agreementFromYaml(file, edited('clinic: Tern', 'clinic: !!js/function Tern'), published);
  expect(read.clinic).toBe('Tern Valley Neuromuscular Clinic (demonstration, invented)');
});

describe('an agreement that does not fit stops the build, with file, field, line and reason:', () => {
  test.each<[string, () => string, (line: (text: string) => number) => string]>([
    [
      'a field that is not ours',
      () => `${demonstration}\nowner: me\n`,
      () => `owner (line ${demonstration.split('\n').length + 1}): not a field of an agreement`,
    ],
    [
      'a value in words',
      () => edited('value: 80', 'value: eighty'),
      (line) => `marks[0].value (line ${line('value: 80')}): expected a number above 0, found "eighty"`,
    ],
    [
      'a measure that the handbook does not have',
      () => edited('measure: snip\n', 'measure: grip\n'),
      (line) => `marks[2].measure (line ${line('measure: snip\n')}): no measure here is called "grip"`,
    ],
    [
      'a changed number without its reason',
      () => edited('value: 80', 'value: 70'),
      (line) => `marks[0].reason (line ${line('id: night-ventilation-1')}): expected a reason, found nothing`,
    ],
    [
      'a phone number that YAML takes for a number',
      () => edited('01632 960 101', '1632960101'),
      (line) =>
        `phones[0].number (line ${line('01632 960 101')}): expected a phone number: digits, spaces and + ( ) . / -, found 1632960101: put it in quotation marks`,
    ],
    [
      'a clinic called by a number',
      () => edited('clinic: Tern Valley Neuromuscular Clinic (demonstration, invented)', 'clinic: 7'),
      (line) => `clinic (line ${line('clinic: ')}): expected some text, found 7: put it in quotation marks`,
    ],
    [
      'another version',
      () => edited('version: 1', 'version: 2'),
      (line) =>
        `version (line ${line('version: 1')}): expected 1, found 2: the file is newer than this copy of the handbook`,
    ],
    ['an empty file', () => '', () => 'expected an agreement, found null'],
    [
      'a file that is too large',
      () => demonstration.padEnd(limits.file + 1),
      () => `expected at most ${limits.file} characters, found ${limits.file + 1}`,
    ],
    [
      'a field given twice',
      () => edited("review: '2027-11-25'", "review: '2027-11-25'\nreview: '2099-01-01'"),
      (line) => `line ${line('review:') + 1}: this is not YAML: Map keys must be unique`,
    ],
    [
      'a bracket that is never closed',
      () => edited('agreedBy: [Physician', 'agreedBy: [[Physician'),
      () => 'this is not YAML',
    ],
    [
      'a tab',
      () => 'format: tidemark-agreement\n\tversion: 1\n',
      () => 'line 2: this is not YAML: Tabs are not allowed as indentation',
    ],
  ])('%s', (_, text, message) => {
    const messages = stopped(text());
    expect(messages[0]).toContain(message(lineOf));
    for (const each of messages) expect(each.startsWith(file)).toBe(true);
  });
});
