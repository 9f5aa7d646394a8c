import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { derive } from '../../../calculators/criteria/derive.ts';
import { evaluate } from '../../../calculators/criteria/evaluate.ts';
import { explain, supportWords } from '../../../calculators/criteria/explain.ts';
import { alarms, shelfOf } from '../../../calculators/criteria/group.ts';
import { type NoteInput, noteText, plainNote } from '../../../calculators/criteria/note.ts';
import type { Visit } from '../../../calculators/criteria/visit.ts';
import { anyVisit, decisions, evidence, measures, reading, visit } from './setup.ts';

const noteOf = (
  write: typeof noteText,
  seen: Visit,
  supportTimes: NonNullable<NoteInput['supportTimes']> = {},
): string =>
  write({
    supportTimes,
    visit: seen,
    findings: evaluate(seen, evidence),
    evidence,
    decisions,
    sourceName: (id) => `source ${id}`,
    date: '2 March',
    evidenceDate: '25 November 2026',
  });
const note = (seen: Visit): string => noteOf(noteText, seen);
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

/** A man with ALS at home: weak, leaky blow, short of breath flat, on oxygen, NIV not tolerated. */
const atHome = derive(
  visit({
    heightCm: 176.4,
    readings: {
      'vc-litres': reading(1.9, 'L', { flags: ['leak'], posture: 'upright' }),
      snip: reading(-38, 'cm[H2O]'),
      paco2: reading(6.2, 'kPa', { method: 'capillary' }),
      spo2: reading(88, '%', { gas: 'oxygen' }),
      'peak-cough-flow': reading(4, 'L/s'),
    },
    signs: { orthopnoea: 'present', 'morning-headache': 'absent', 'ineffective-cough': 'present' },
    supports: { 'night-ventilation': 'not-tolerated', 'cough-help': 'none' },
  }),
  { set: 'gli-2022-global' },
);
const text = plain(note(atHome));
const headings = text
  .split('\n')
  .filter((line) => line !== '' && line === line.toUpperCase() && !line.startsWith('- '));
const linesUnder = (heading: string): string[] => {
  const lines = text.split('\n');
  const from = lines.indexOf(heading);
  if (from < 0) throw new Error(`no ${heading} in\n${text}`);
  const rest = lines.slice(from + 1);
  return rest.slice(0, rest.indexOf(''));
};

describe('a note for the centre', () => {
  test('begins with who and when, and ends by saying what findings are', () => {
    const lines = text.split('\n');
    expect(lines[0]).toBe('Respiratory visit 2 March');
    expect(lines[1]).toBe('ALS / motor neurone disease, 60 years, male, 176 cm');
    expect(lines.at(-1)).toMatch(/^Findings are published criteria as held on 25 November 2026\W.*not a decision\./);
  });

  test('goes from urgent to what was seen, to marks, to payer rules, to what is missing', () => {
    const place = (heading: RegExp) => headings.findIndex((line) => heading.test(line));
    const order = [
      /^URGENT MARKS MET$/,
      /^SUPPORTS$/,
      /^MEASURED$/,
      /^WORKED OUT FROM THESE$/,
      /^PRESENT$/,
      /^ASKED AND ABSENT$/,
      /^PUBLISHED MARKS MET/,
      /^COULD NOT BE TOLD WITHOUT$/,
    ];
    const places = order.map(place);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(Math.min(...places)).toBeGreaterThanOrEqual(0);
  });

  test('what was asked and absent stands in one line, so that it does not bury what is there', () => {
    const seen = visit({
      signs: { orthopnoea: 'absent', 'morning-headache': 'absent', 'bulbar-dysfunction': 'present' },
    });
    expect(note(seen)).toContain('ASKED AND ABSENT\n- Breathless lying flat (orthopnoea); Headache in the morning\n');
  });

  test('a saturation on oxygen is not called one on air', () => {
    const seen = visit({ readings: { spo2: reading(93, '%', { gas: 'oxygen' }) } });
    expect(plain(note(seen))).toContain('- SpO2 at rest: 93 % (on oxygen)');
    expect(plain(noteOf(plainNote, seen))).toContain('- SpO2 at rest: 93 %, on oxygen');
  });

  test('hours of ventilation and the longest time off it stand with the support, while it is in place', () => {
    const times = { 'night-ventilation': { hours: '9', timeOff: '2 h, sitting' } };
    const of = (status: 'in-place' | 'not-tolerated') =>
      noteOf(noteText, visit({ supports: { 'night-ventilation': status } }), times);
    expect(of('in-place')).toContain('- Night NIV: in place, 9 hours in 24, longest time off it: 2 h, sitting');
    expect(of('not-tolerated')).toMatch(/- Night NIV: not tolerated$/m);
  });

  test('a low saturation on oxygen leads', () => {
    expect(linesUnder('URGENT MARKS MET')).toEqual(['- SpO2 88 % is below 90 %. [source trade-practice]']);
    expect(text.split('SpO2 88 % is below 90 %').length).toBe(2);
  });

  test('readings stand as they were taken, with what was breathed, posture, method and flags in words', () => {
    expect(linesUnder('MEASURED')).toEqual([
      '- Vital capacity in litres: 1.9 L (upright; flagged: leak at mask or mouthpiece, which reads low)',
      '- Sniff pressure (SNIP): 38 cmH2O',
      `- ${measures.paco2?.label}: 6.2 kPa (capillary)`,
      '- SpO2 at rest: 88 % (on oxygen)',
      `- ${measures['peak-cough-flow']?.label}: 4 L/s`,
    ]);
  });

  test('what was worked out has few digits, and keeps the flag of what it came from', () => {
    expect(linesUnder('WORKED OUT FROM THESE')).toEqual([
      expect.stringMatching(
        /^- FVC or VC, upright: \d\d\.?\d? % predicted \(flagged: leak at mask or mouthpiece, which reads low\)$/,
      ),
    ]);
  });

  test('each met mark is a sentence with its source, and its flag', () => {
    const sentences = linesUnder('PUBLISHED MARKS MET: NIGHT VENTILATION');
    expect(sentences.filter((line) => line.includes('SNIP'))).toEqual(
      expect.arrayContaining(['- SNIP 38 cmH2O is below 40 cmH2O. [source aan-2009; source chest-2023]']),
    );
    for (const line of sentences.filter((line) => line.includes('FVC'))) expect(line).toContain('flagged: leak');
  });

  test('what several sources say in the same words stands once, with all of them', () => {
    for (const heading of headings) {
      const sentences = linesUnder(heading).map((line) => line.replace(/ \[source .*$/, ''));
      expect(sentences, heading).toEqual([...new Set(sentences)]);
    }
  });

  test('no urgent mark met is no all-clear: how many could not be told stands where they would', () => {
    const told = note(visit({ signs: { orthopnoea: 'absent' } }));
    expect(told).toMatch(
      /\n\nNo urgent mark met by what was entered; [1-9]\d* could not be told\.\n\nASKED AND ABSENT/,
    );
    expect(text).not.toContain('No urgent mark met');
  });

  test('a saturation says when nobody noted what was breathed, for the centre and in plain words', () => {
    const seen = visit({ readings: { spo2: reading(93, '%') } });
    expect(plain(note(seen))).toContain('- SpO2 at rest: 93 % (what was breathed is not recorded)');
    expect(plain(noteOf(plainNote, seen))).toContain('- SpO2 at rest: 93 %, what was breathed is not recorded');
  });

  test('a support that was not tolerated turns the marks into a review', () => {
    expect(linesUnder('SUPPORTS')[0]).toBe('- Night NIV: not tolerated');
    expect(linesUnder('PUBLISHED MARKS MET: NIGHT VENTILATION').at(-1)).toBe(`- ${supportWords['not-tolerated']}`);
    expect(text.split(supportWords['not-tolerated']).length).toBe(2);
  });

  test('payer rules stand apart, and say that they are not need', () => {
    const heading = headings.find((line) => line.includes('PAYER'));
    expect(heading).toContain('NOT CLINICAL NEED');
    expect(headings.indexOf(heading ?? '')).toBe(headings.length - 2);
  });

  test('no number from memory is in it: Canada\u2019s 40 is unchecked', () => {
    expect(text).not.toContain('source cmaj-als-2020');
  });
});

describe('in plain words', () => {
  const emergency = /^If you become very sleepy.*: (.*)$/m;

  test('what to do in an emergency stands before the numbers', () => {
    const told = noteOf(plainNote, atHome);
    expect(emergency.exec(told)?.[1]).toBe('call the emergency number.');
    expect(told.search(emergency)).toBeLessThan(told.indexOf('What we measured'));
  });

  test.each(['no-hospital', 'comfort-only'] as const)('with the wish %s it is the person\u2019s own plan', (wish) => {
    const told = emergency.exec(noteOf(plainNote, { ...atHome, wishes: [wish] }))?.[1];
    expect(told).toMatch(/^follow your own plan, and call the team named in it at once\./);
  });

  test('a wish about ventilation alone takes no help away', () => {
    const told = noteOf(plainNote, { ...atHome, wishes: ['no-invasive-ventilation', 'not-discussed'] });
    expect(emergency.exec(told)?.[1]).toBe('call the emergency number.');
  });

  test('a flagged reading keeps its flag', () => {
    expect(plain(noteOf(plainNote, atHome))).toContain(
      '- Vital capacity in litres: 1.9 L, leak at mask or mouthpiece, which reads low',
    );
  });
});

test('a visit with nothing in it says so, and invents nothing', () => {
  const empty = note({ readings: {}, signs: {} });
  expect(empty).toContain('disease not given, age not given, sex not given');
  expect(empty).not.toMatch(/MARKS MET|MEASURED|PRESENT\n/);
  expect(empty).toContain('COULD NOT BE TOLD WITHOUT');
});

test('the note of any visit holds every alarm and every checked mark that is met, and no other finding', () => {
  fc.assert(
    fc.property(anyVisit, (seen) => {
      const findings = evaluate(seen, evidence);
      const written = note(seen).split('\n');
      const expected = new Set(
        [
          ...alarms(findings),
          ...findings.filter(({ criterion, result }) => result === 'met' && shelfOf(criterion) === 'acted'),
        ].map((one) => `- ${explain(one, measures)} [source ${one.criterion.source}]`),
      );
      const sourced = written.flatMap((line) => {
        const [, said, by] = /^(.*) \[(source [^\]]+)\]$/.exec(line) ?? [];
        return by?.split('; ').map((source) => `${said} [${source}]`) ?? [];
      });
      expect(new Set(sourced)).toEqual(expected);
      expect(written.join('\n')).not.toMatch(/undefined|NaN|\[object/);
      for (const line of written) expect(line).not.toMatch(/ +$|\d\.\d{9}/);
    }),
    { numRuns: 60 },
  );
});

test('who answers and what the person wants stand at the top, and only where they were told', () => {
  const seen = visit({ readings: { snip: reading(38, 'cm[H2O]') }, wishes: ['no-hospital', 'comfort-only'] });
  const written = (answers?: string) =>
    noteText({
      visit: seen,
      findings: evaluate(seen, evidence),
      evidence,
      decisions,
      sourceName: (id) => id,
      date: '2 March',
      evidenceDate: '25 November 2026',
      ...(answers === undefined ? {} : { answers }),
    });
  expect(written('the daughter')).toContain('Answers: the daughter\n');
  expect(written()).not.toContain('Answers:');
  expect(written()).toMatch(/^Wishes: .+; .+$/m);
  const silent = visit({ readings: { snip: reading(38, 'cm[H2O]') } });
  expect(note(silent)).not.toContain('Wishes:');
});
