import { globSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import { Agreement, agreedSets, agreementText, limits } from '../../../calculators/agreement/agreement.ts';
import { departureOf } from '../../../calculators/agreement/local-criteria.ts';
import {
  checkAgreement,
  problemWords,
  readAgreement,
  refusalWords,
} from '../../../calculators/agreement/read-agreement.ts';
import { forcedSets } from '../../../calculators/spirometry/reference-sets.ts';
import { agreement, anyAgreement, keepable, ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const file = 'clinic-agreement.json';
/** Every message of a text that is refused, as the reader sees it. */
function refusals(text: string): string[] {
  const read = readAgreement(text, published);
  return read.ok ? [] : read.problems.map((problem) => problemWords(file, problem));
}
/** The exported file with one piece of its text replaced. */
function edited(from: string, to: string, whole = agreement()): string {
  const text = agreementText(whole);
  expect(text).toContain(from);
  return text.replace(from, to);
}
const withCriterion = (more: Parameters<typeof ownCriterion>[0]): string =>
  agreementText(agreement({ marks: [ownCriterion(more)] }));

describe('an agreement that fits', () => {
  test('is read back as it was written, whatever words and criteria it holds', () => {
    fc.assert(
      fc.property(anyAgreement, (whole) => {
        const recorded = onEvidence(whole, published, whole.evidence.date);
        const read = readAgreement(agreementText(recorded), published);
        if (!read.ok) expect(read.problems).toEqual([]);
        else expect(read.agreement).toEqual(recorded);
      }),
      { numRuns: 300 },
    );
  });

  test.each(keepable.map((row) => row.id))('%s can be kept as published', (id) => {
    const row = keepable.find((one) => one.id === id);
    const criterion = publishedCriterion(id, {
      ...(row?.standing === 'from-memory'
        ? { read: { role: 'Physician', date: '2026-11-20', locator: 'table 2' } }
        : {}),
      ...(row?.status === 'current' ? {} : { reason: 'Our older cards use it' }),
    });
    expect(refusals(agreementText(agreement({ marks: [criterion] })))).toEqual([]);
  });

  test('a criterion of the spreadsheet kind, with a byte order criterion before it, is read', () => {
    expect(readAgreement(`\ufeff${agreementText(agreement())}`, published).ok).toBe(true);
  });

  test('markup in a field stays the text that it is', () => {
    const whole = agreement({ clinic: '<b>Tern</b> <script>alert(1)</script>' });
    const read = readAgreement(agreementText(whole), published);
    expect(read.ok && read.agreement.clinic).toBe('<b>Tern</b> <script>alert(1)</script>');
  });

  test.each(globSync('content/agreement/*.yaml'))('%s fits the handbook', (name) => {
    const checked = checkAgreement(parse(readFileSync(name, 'utf8')), published);
    expect(checked.ok ? [] : checked.problems).toEqual([]);
  });

  test('the demonstration says that it is one, and what it departs in', () => {
    const demonstration = Agreement.parse(parse(readFileSync('content/agreement/demo-tern-valley.yaml', 'utf8')));
    expect(demonstration.clinic).toContain('demonstration, invented');
    const departs = demonstration.marks.map((criterion) => departureOf(criterion, published)).filter(Boolean);
    expect(departs).toEqual(['more-cautious', 'less-cautious']);
  });

  test('the sets that it can name are the sets of the handbook, with the groups that each publishes', () => {
    expect(agreedSets).toEqual(
      Object.fromEntries(Object.values(forcedSets).map(({ id, groups }) => [id, [...groups]])),
    );
  });
});

test.each([
  [
    '{"format": "tidemark-agreement", "version": 1, "clinic": "X"',
    'Part of the agreement is missing. Ask the sender to send it again, as a file.',
  ],
  ['{"format": "tidemark-agreement", "version": 7}', /newer version of the handbook. Go online to update this copy/],
  ['{"format": "tidemark-visit"}', /not a clinic agreement/],
  ['<html>', /not a clinic agreement/],
  [' '.repeat(limits.file + 1), /too large/],
  [withCriterion({ measure: 'grip-strength' }), /Show the list below to the person who sent it/],
])('refused: says what happened and what to do (%#)', (text, words) => {
  const read = readAgreement(text, published);
  const said = read.ok ? 'opened' : refusalWords(read.problems);
  if (typeof words === 'string') expect(said).toBe(words);
  else expect(said).toMatch(words);
});

describe('a file that is refused says where and why', () => {
  test.each<[string, () => string, string[]]>([
    [
      'a value that is a text',
      () => edited('"value": 65', '"value": "40%"'),
      [`${file}, marks[1].value (line 48): expected a number above 0, found "40%"`],
    ],
    [
      'a value of zero',
      () => edited('"value": 65', '"value": 0'),
      [`${file}, marks[1].value (line 48): expected a number above 0, found 0`],
    ],
    [
      'a value that nobody can have',
      () => edited('"value": 65', '"value": 6500'),
      [`${file}, marks[1].value (line 48): expected a number from 1 to 200 %, found 6500`],
    ],
    [
      'a value that is missing',
      () => withCriterion({ value: undefined }),
      [`${file}, marks[0].value (line 27): expected a number above 0, found nothing`],
    ],
    [
      'a unit that does not exist',
      () => edited('"unit": "%",\n      "reason"', '"unit": "percent",\n      "reason"'),
      [`${file}, marks[1].unit (line 49): expected a unit code such as %, L/min or cm[H2O], found "percent"`],
    ],
    [
      'a unit of another kind',
      () => withCriterion({ unit: 'L/min' }),
      [`${file}, marks[0].unit (line 35): expected "%" or a unit that converts to it, found "L/min"`],
    ],
    [
      'a measure that the handbook does not have',
      () => withCriterion({ measure: 'grip-strength' }),
      [`${file}, marks[0].measure (line 32): no measure here is called "grip-strength"`],
    ],
    [
      'a measure called like a part of every object',
      () => withCriterion({ measure: 'constructor' }),
      [`${file}, marks[0].measure (line 32): no measure here is called "constructor"`],
    ],
    [
      'a decision that the handbook does not have',
      () => withCriterion({ decision: 'transplant' }),
      [`${file}, marks[0].decision (line 29): no decision here is called "transplant"`],
    ],
    [
      'a payer rule',
      () => withCriterion({ decision: 'coverage' }),
      [`${file}, marks[0].decision (line 29): "coverage" holds payer rules, which a clinic cannot set`],
    ],
    [
      'a published criterion that does not exist',
      () => withCriterion({ basis: 'nice-2031' }),
      [`${file}, marks[0].basis (line 37): no published criterion here is called "nice-2031"`],
    ],
    [
      'a published criterion about another measure',
      () => withCriterion({ basis: 'aan-als-snp-lt-40' }),
      [`${file}, marks[0].basis (line 37): "aan-als-snp-lt-40" is about "snip", not "fvc-percent"`],
    ],
    [
      'a published criterion of another decision',
      () => withCriterion({ basis: 'nice-mnd-fvc-lt-50' }),
      [
        `${file}, marks[0].basis (line 37): "nice-mnd-fvc-lt-50" belongs to "watching-closer", not to "night-ventilation"`,
      ],
    ],
    [
      'a published criterion lent to another disease',
      () => withCriterion({ basis: 'aan-als-fvc-lt-50', disease: 'dmd' }),
      [
        `${file}, marks[0].disease (line 30): "aan-als-fvc-lt-50" was published for als: for "dmd", set a criterion without a basis`,
      ],
    ],
    [
      'a published criterion turned round',
      () => withCriterion({ basis: 'aan-als-fvc-lt-50', comparator: '>' }),
      [`${file}, marks[0].comparator (line 33): "aan-als-fvc-lt-50" is about the other side: <`],
    ],
    [
      'a comparator in words',
      () => edited('"comparator": "<",\n      "value": 65', '"comparator": "below",\n      "value": 65'),
      [`${file}, marks[1].comparator (line 47): expected one of < <= > >= present absent, found "below"`],
    ],
    [
      'a sign with a number',
      () => withCriterion({ measure: 'orthopnoea' }),
      [`${file}, marks[0].comparator (line 33): expected present or absent: "orthopnoea" is a sign, found "<"`],
    ],
    [
      'a disease that is not known',
      () =>
        edited(
          '"disease": "als",\n      "population": "adult",\n      "measure": "fvc-percent",\n      "comparator": "<",\n      "value": 65',
          '"disease": "mnd",\n      "population": "adult",\n      "measure": "fvc-percent",\n      "comparator": "<",\n      "value": 65',
        ),
      [
        `${file}, marks[1].disease (line 44): expected any or one of als, dmd, sma, dm1, pompe, post-polio, fshd, lgmd, cmd, sci, other-chronic, gbs, mg, sci-acute, found "mnd"`,
      ],
    ],
    [
      'a criterion of its own without a reason',
      () => withCriterion({ reason: undefined }),
      [`${file}, marks[0].reason (line 27): expected a reason, found nothing`],
    ],
    [
      'a less cautious criterion without a reason',
      () => withCriterion({ value: 30, reason: undefined }),
      [
        `${file}, marks[0].reason (line 27): expected a reason, found nothing. Less cautious than every published criterion for the same measure`,
      ],
    ],
    [
      'an unchecked number that nobody has read',
      () => agreementText(agreement({ marks: [publishedCriterion('ca-als-fvc-upright-lt-65')] })),
      [
        `${file}, marks[0].read (line 27): expected who read the source, when and where: the number of "ca-als-fvc-upright-lt-65" is not yet checked`,
      ],
    ],
    [
      'two criteria of one name',
      () => agreementText(agreement({ marks: [ownCriterion(), ownCriterion({ value: 70 })] })),
      [`${file}, marks[1].id (line 39): expected its own id, found "own", which marks[0] has`],
    ],
    [
      'a field that is not ours',
      () => edited('"clinic":', '"owner": "me",\n  "clinic":'),
      [`${file}, owner (line 4): not a field of an agreement`],
    ],
    [
      'a field given twice',
      () => edited('"review": "2027-11-25"', '"review": "2027-11-25",\n  "review": "2099-01-01"'),
      [`${file}, review (line 7): given twice`],
    ],
    [
      'a prototype smuggled in',
      () => edited('"clinic":', '"__proto__": {},\n  "clinic":'),
      [`${file}, ["__proto__"] (line 4): not a field of an agreement`],
    ],
    [
      'a day that is in no calendar',
      () => edited('"review": "2027-11-25"', '"review": "2027-02-29"'),
      [`${file}, review (line 6): expected a date that exists, such as 2026-11-25, found "2027-02-29"`],
    ],
    [
      'a review before the agreement',
      () => edited('"review": "2027-11-25"', '"review": "2026-11-24"'),
      [`${file}, review (line 6): expected a date from 2026-11-25 on, found "2026-11-24"`],
    ],
    [
      'a phone number that is none',
      () => edited('01632 960 101', 'javascript:alert(1)'),
      [
        `${file}, phones[0].number (line 14): expected a phone number: digits, spaces and + ( ) . / -, found "javascript:alert(1)"`,
      ],
    ],
    [
      'a wait in words',
      () => edited('"weeks": 6', '"weeks": "six"'),
      [`${file}, waits[0].weeks (line 20): expected a number of weeks from 0 to 260, found "six"`],
    ],
    [
      'nobody who agreed',
      () => agreementText(agreement({ agreedBy: [] })),
      [`${file}, agreedBy (line 7): expected at least one entry, found none`],
    ],
    [
      'a name without a letter',
      () => edited('"Tern Valley"', '"   "'),
      [`${file}, clinic (line 4): expected some text, found "   "`],
    ],
    [
      'a character that turns a number round',
      () => edited('"Tern Valley"', '"Tern \u202e Valley"'),
      [`${file}, clinic (line 4): expected plain text, found a hidden character (U+202E)`],
    ],
    [
      'a name that is too long',
      () => edited('"Tern Valley"', `"${'x'.repeat(2400)}"`),
      [`${file}, clinic (line 4): expected at most 120 characters, found 2,400`],
    ],
    [
      'too many roles',
      () => agreementText(agreement({ agreedBy: Array.from({ length: 21 }, () => 'Nurse') })),
      [`${file}, agreedBy (line 7): expected at most 20 entries, found 21`],
    ],
    [
      'a group without a set',
      () => agreementText(agreement({ group: 'caucasian' })),
      [`${file}, group (line 53): expected a reference set for this group, found nothing`],
    ],
    [
      'another version',
      () => edited('"version": 1', '"version": 2'),
      [`${file}, version (line 3): expected 1, found 2: the file is newer than this copy of the handbook`],
    ],
    [
      'another kind of file',
      () => '{"name": "x"}',
      [`${file}, format (line 1): expected "tidemark-agreement", found nothing: this is not an agreement file`],
    ],
    ['a list', () => '[]', [`${file}, line 1: expected an agreement, found a list`]],
    [
      'nothing at all',
      () => '',
      [`${file}, line 1: the text ends here, where a value should follow: the file was cut short`],
    ],
    ['a page of the web', () => '<!doctype html>', [`${file}, line 1: expected a value, found "<"`]],
    [
      'a rule that can never be met',
      () => withCriterion({ rule: { alsoRequires: [{ anyOf: [] }] } }),
      [`${file}, marks[0].rule.alsoRequires[0].anyOf (line 40): expected at least one entry, found none`],
    ],
    [
      'a condition without its number',
      () => withCriterion({ rule: { alsoRequires: [{ measure: 'snip', comparator: '<' }] } }),
      [`${file}, marks[0].rule.alsoRequires[0].value (line 39): expected a number above 0, found nothing`],
    ],
    [
      'a condition on a measure that is not known',
      () => withCriterion({ rule: { alternative: { measure: 'grip', comparator: 'present' } } }),
      [`${file}, marks[0].rule.alternative.measure (line 39): no measure here is called "grip"`],
    ],
    [
      'a support of another decision',
      () => withCriterion({ rule: { support: 'oral-suction' } }),
      [`${file}, marks[0].rule.support (line 38): expected a support of "night-ventilation", found "oral-suction"`],
    ],
  ])('%s', (_, text, messages) => {
    expect(refusals(text())).toEqual(messages);
  });

  test('a file cut short, at any place, names the line where it ends', () => {
    const text = agreementText(agreement());
    for (let end = 1; end < text.trimEnd().length; end += 7) {
      const [message = ''] = refusals(text.slice(0, end));
      const lines = text.slice(0, end).split('\n').length;
      expect(message).toContain('the file was cut short');
      expect(message).toMatch(new RegExp(`line ${lines}\\b`));
    }
  });

  test('a file too large is refused by its size, before anything in it is read', () => {
    expect(refusals(' '.repeat(limits.file + 1))).toEqual([
      `${file}: expected at most 200,000 characters, found 200,001`,
    ]);
  });

  test('a file of just the size that is allowed is read', () => {
    expect(refusals(agreementText(agreement()).padEnd(limits.file))).toEqual([]);
  });

  test('a file nested a thousand deep is refused, and stops nothing', () => {
    expect(refusals('['.repeat(1000))).toEqual([
      `${file}, [0][0][0][0][0][0][0][0][0][0][0][0] (line 1): nested deeper than 12 levels`,
    ]);
  });

  test('no more than twenty messages are shown', () => {
    const marks = Array.from({ length: 60 }, (_, place) => ownCriterion({ id: `m-${place}`, measure: 'grip' }));
    expect(refusals(agreementText(agreement({ marks })))).toHaveLength(20);
  });
});

test('a thousand spoiled files are each read or refused; none is anything else, and a good one is as good afterwards', () => {
  const text = agreementText(onEvidence(agreement(), published, '2026-11-25'));
  const spoil = fc.array(
    fc.record({
      at: fc.nat({ max: text.length - 1 }),
      take: fc.nat({ max: 12 }),
      put: fc.oneof(
        fc.string({ unit: 'binary', maxLength: 6 }),
        fc.constantFrom('{', '}', '[', ']', '"', ',', ':', '\\', '1e999', '-', 'null', '\u0000', '"__proto__":'),
      ),
    }),
    { minLength: 1, maxLength: 6 },
  );
  fc.assert(
    fc.property(spoil, (changes) => {
      const spoiled = changes.reduce((now, { at, take, put }) => now.slice(0, at) + put + now.slice(at + take), text);
      const read = readAgreement(spoiled, published);
      if (read.ok) expect(Agreement.safeParse(read.agreement).success).toBe(true);
      else {
        expect(read.problems.length).toBeGreaterThan(0);
        for (const { message } of read.problems) expect(message).toMatch(/\S/);
      }
    }),
    { numRuns: 1000 },
  );
  expect(readAgreement(text, published).ok).toBe(true);
});
