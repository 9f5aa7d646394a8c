/** An agreement for other programs: minutes, a table, a day in a calendar, a name for its file. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { agreementCsv, fileStem, reviewCalendar } from '../../../calculators/agreement/hand-out.ts';
import { minutesDocument, minutesParts, minutesText } from '../../../calculators/agreement/minutes.ts';
import { csvCell } from '../../../calculators/exchange/csv.ts';
import { agreement, anyAgreement, ownCriterion, published } from './agreement-setup.ts';

const named = (id: string) => id;

describe('a table', () => {
  test.each([
    ['=1+1', "'=1+1"],
    ['+44 1632 960101', "'+44 1632 960101"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['  -2+3', "'  -2+3"],
    ['-2.5', '-2.5'],
    ['a, "b"', '"a, ""b"""'],
    ['two\nlines', '"two\nlines"'],
    ['plain', 'plain'],
  ])('writes %j as %j', (text, cell) => expect(csvCell(text)).toBe(cell));

  test('runs nothing, whatever a clinic has typed', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        const inside = csvCell(text).replace(/^"/, '');
        expect(/^\s*[=+@|%]/.test(inside) || (/^\s*-/.test(inside) && Number.isNaN(Number(inside)))).toBe(false);
      }),
    );
    expect(agreementCsv(agreement({ clinic: '=HYPERLINK("x")' }), published, named, undefined)).toContain(
      "'=HYPERLINK",
    );
  });

  test('has every criterion with its people, source and reason', () => {
    const text = agreementCsv(agreement(), published, named, 'ba78 16bf');
    expect(text).toContain('Digest,ba78 16bf');
    expect(text).toMatch(/Night ventilation,.*FVC below 65.*Machines take three weeks to come/);
  });

  test('has the unit as people write it', () => {
    const sniff = ownCriterion({ measure: 'snip', value: 45, unit: 'cm[H2O]' });
    expect(agreementCsv(agreement({ marks: [sniff] }), published, named, undefined)).toContain(',< 45,cmH2O,');
  });
});

describe('the calendar file', () => {
  test('is one whole day, the review, with a reminder', () => {
    const text = reviewCalendar(agreement({ clinic: 'Tern Valley, north; east' }));
    expect(text).toContain('\r\nDTSTART;VALUE=DATE:20271125\r\n');
    expect(text).toContain('SUMMARY:Review of the clinic agreement\\, Tern Valley\\, north\\; east');
    expect(text).toContain('TRIGGER:-P28D');
  });

  test('has no line over 75 bytes and no line end inside a text, whatever the clinic is called', () => {
    fc.assert(
      fc.property(anyAgreement, (whole) => {
        const text = reviewCalendar(whole);
        for (const line of text.split('\r\n')) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
        expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
        expect(text.replaceAll('\r\n ', '')).toContain(`DTSTART;VALUE=DATE:${whole.review.replaceAll('-', '')}`);
      }),
      { numRuns: 100 },
    );
  });
});

describe('the name of a file', () => {
  test('says clinic, day, number, and that it is a draft', () => {
    expect(fileStem(agreement({ clinic: 'Tern Valley \u00c9t\u00e9 (north)', revision: 2, status: 'draft' }))).toBe(
      'tern-valley-ete-north-2026-11-25-revision-2-DRAFT',
    );
  });

  test('is one that any system takes', () => {
    fc.assert(
      fc.property(anyAgreement, (whole) => {
        expect(fileStem(whole)).toMatch(/^[\p{L}\p{N}-]{10,80}$/u);
      }),
    );
  });
});

describe('the minutes', () => {
  const whole = agreement({
    clinic: '<b>Tern</b> Valley',
    status: 'agreed',
    minutes: {
      present: ['Physician', 'Nurse'],
      dissent: [{ by: 'Nurse', says: 'Would have preferred 60', decision: 'night-ventilation' }],
      open: [{ says: 'How long does the supplier take?' }],
    },
  });
  const parts = minutesParts(whole, published, named);

  test('hold who was present, each decision with its reason, dissent and open questions', () => {
    const text = minutesText(whole, parts, 'Last line.');
    for (const words of [
      'Present\n- Physician, Nurse',
      'Machines take three weeks to come',
      'Night ventilation. Nurse: Would have preferred 60',
      'How long does the supplier take?',
      'Agreed in the meeting of 2026-11-25; not signed.',
      'Last line.',
    ])
      expect(text).toContain(words);
  });

  test('as a document have a line to sign for each role, and markup stays text', () => {
    const page = minutesDocument(whole, parts, '');
    expect(page).toContain('&lt;b&gt;Tern&lt;/b&gt; Valley');
    expect(page).not.toContain('<b>');
    expect(page.match(/<td>(Physician|Respiratory therapist)<\/td>/g)).toHaveLength(2);
  });

  test('name two thresholds for the same people, and whether somebody said that both are meant', () => {
    const marks = [ownCriterion({ value: 30 }), ownCriterion({ id: 'other', value: 45 })];
    const textOf = (meant: string[][]) =>
      minutesText(whole, minutesParts(agreement({ marks, minutes: { meant } }), published, named), '');
    expect(textOf([])).toMatch(/FVC below 30.* and FVC below 45.*: nobody has said whether both are meant\./);
    expect(textOf([['own', 'other']])).toMatch(/FVC below 30.* and FVC below 45.*: both are meant\./);
    const alone = minutesParts(agreement({ marks: marks.slice(0, 1) }), published, named);
    expect(minutesText(whole, alone, '')).not.toContain('Two thresholds');
  });

  test('say DRAFT for as long as it is one', () => {
    expect(minutesText({ ...whole, status: 'draft' }, parts, '')).toContain('DRAFT: not agreed.');
  });
});
