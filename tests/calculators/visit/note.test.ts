import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords, withoutItems } from '../../../calculators/evaluate/explain.ts';
import { categoryOf, needsAttention, urgentFindings, withinAWeek } from '../../../calculators/evaluate/group.ts';
import { type NoteInput, noteText, plainNote } from '../../../calculators/visit/note.ts';
import { anyVisit, decisions, evidence, measures, reading, visit } from '../evaluate/setup.ts';

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

  test('goes from urgent to what was seen, to criteria, to payer rules, to what is most useful next', () => {
    const place = (heading: RegExp) => headings.findIndex((line) => heading.test(line));
    const order = [
      /^EMERGENCY$/,
      /^SAME DAY$/,
      /^WITHIN A WEEK$/,
      /^DECLINED OR NOT TOLERATED$/,
      /^SUPPORTS$/,
      /^MEASURED$/,
      /^WORKED OUT FROM THESE$/,
      /^PRESENT$/,
      /^ASKED AND ABSENT$/,
      /^PUBLISHED CRITERIA MET/,
      /PAYER RULES/,
      /^MOST USEFUL TO MEASURE OR ASK NEXT$/,
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

  test('a low saturation on oxygen leads, with its act as the headline and the finding under it', () => {
    expect(linesUnder('EMERGENCY')).toEqual([
      '- Call the emergency number now; support ventilation and clear the airway. Because: SpO2 88 % is below 90 %. It counts unless the written plan names a usual value this low. [source trade-practice]',
    ]);
    expect(text.split('SpO2 88 % is below 90 %').length).toBe(2);
  });

  test('a raised CO2 that nobody tapped is a call today, and is to be seen within a week', () => {
    expect(linesUnder('SAME DAY')).toEqual([
      '- Call the ventilation service today. Because: CO2 is raised (PaCO2 6.2 kPa, capillary), and NIV is not in use. [source trade-practice]',
    ]);
    expect(linesUnder('WITHIN A WEEK')).toEqual(['- PaCO2 6.2 kPa is above 6 kPa. [source nice-ng42]']);
  });

  test('a support that was not tolerated stands beside what is urgent, so that nobody offers it as new', () => {
    expect(linesUnder('DECLINED OR NOT TOLERATED')).toEqual([`- Night NIV: ${supportWords['not-tolerated']}`]);
    const calm = note(visit({ signs: { orthopnoea: 'present' }, supports: { 'night-ventilation': 'declined' } }));
    expect(calm).not.toContain('DECLINED OR NOT TOLERATED');
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

  test('each met criterion is a sentence with its source, and its flag', () => {
    const sentences = linesUnder('PUBLISHED CRITERIA MET: NIGHT VENTILATION');
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

  test('nothing urgent met is no all-clear: the note says that first, and how many cannot be told', () => {
    const told = note(visit({ signs: { orthopnoea: 'absent' } }));
    expect(told).toMatch(
      /\n\nNot an all-clear: [1-9]\d* urgent criteria cannot be told from what was entered\.\n\nASKED AND ABSENT/,
    );
    expect(told).not.toMatch(/no urgent/i);
    expect(text).not.toContain('all-clear');
  });

  test('a single urgent criterion that cannot be told is one', () => {
    const only = evidence.criteria.filter(({ id }) => id === 'fallback-choking-or-airway-blocked');
    const seen = visit();
    const told = noteText({
      visit: seen,
      findings: evaluate(seen, { ...evidence, criteria: only }),
      evidence,
      decisions,
      sourceName: (id) => id,
      date: '2 March',
      evidenceDate: '25 November 2026',
    });
    expect(told).toContain('Not an all-clear: 1 urgent criterion cannot be told');
  });

  test('met cautions and schedules that are due stand among the criteria, in words that say so', () => {
    expect(linesUnder('PUBLISHED CRITERIA MET: OXYGEN WITH CARE')).toEqual([
      '- Oxygen is used without ventilation (SpO2 88 %, on oxygen). [source gay-edmonds-1995]',
    ]);
    const due = plain(note(visit({ readings: { 'interval-months': reading(8, 'mo') } })));
    expect(due).toContain(
      'PUBLISHED CRITERIA MET: WATCHING CLOSER\n- Time between tests 8 months is above 6 months. [source chest-2023]',
    );
    const kept = plain(note(visit({ readings: { 'interval-months': reading(5, 'mo') } })));
    expect(kept).not.toContain('PUBLISHED CRITERIA MET');
  });

  test('what is met among study figures and unchecked numbers is counted, so that no silence hides it', () => {
    expect(text).toMatch(/\n\n[1-9]\d* more met among study figures and criteria not yet checked: /);
    expect(note(visit({ signs: { orthopnoea: 'absent' } }))).not.toContain('among study figures');
  });

  test('an answer and a reading that disagree are both named, and the one that is used', () => {
    const told = plain(note(visit({ readings: { paco2: reading(9.3, 'kPa') }, signs: { hypercapnia: 'absent' } })));
    expect(told).toContain(
      'ANSWERS AND READINGS THAT DISAGREE\n- Answered: CO2 is not raised. PaCO2 9.3 kPa says: CO2 is raised. The findings use: CO2 is raised.',
    );
  });

  test('an abnormal reading that no criterion speaks of is named with its usual range and where that is from', () => {
    const told = plain(
      note(visit({ disease: 'post-polio', readings: { spo2: reading(93, '%', { gas: 'ventilation' }) } })),
    );
    expect(told).toMatch(
      /OUTSIDE THE USUAL RANGE, AND IN NO FINDING ABOVE OR BELOW\n- SpO2 93 % \(on ventilation\) is below the usual 95 % \(common practice\)\. /,
    );
  });

  test('a saturation says when nobody noted what was breathed, for the centre and in plain words', () => {
    const seen = visit({ readings: { spo2: reading(93, '%') } });
    expect(plain(note(seen))).toContain('- SpO2 at rest: 93 % (what was breathed is not recorded)');
    expect(plain(noteOf(plainNote, seen))).toContain('- SpO2 at rest: 93 %, what was breathed is not recorded');
  });

  test('a support that was not tolerated turns the criteria into a review', () => {
    expect(linesUnder('SUPPORTS')[0]).toBe('- Night NIV: not tolerated');
    expect(linesUnder('PUBLISHED CRITERIA MET: NIGHT VENTILATION').at(-1)).toBe(`- ${supportWords['not-tolerated']}`);
    // once beside what is urgent and once with the criteria for it
    expect(text.split(supportWords['not-tolerated']).length).toBe(3);
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
  expect(empty).not.toMatch(/CRITERIA MET|EMERGENCY|SAME DAY|MEASURED|PRESENT\n|OUTSIDE/);
  expect(empty).toContain('MOST USEFUL TO MEASURE OR ASK NEXT');
  expect(empty).toContain('Not an all-clear');
});

test('the note of any visit holds every urgent finding and everything else that asks for attention, and no other finding', () => {
  fc.assert(
    fc.property(anyVisit, (seen) => {
      const findings = evaluate(seen, evidence);
      const written = note(seen).split('\n');
      const expected = new Set(
        [
          ...urgentFindings(findings, decisions),
          ...withinAWeek(findings, decisions),
          ...findings.filter((one) => needsAttention(one) && categoryOf(one.criterion) === 'acting'),
        ].map(
          (one) =>
            `${explain(one.criterion.urgency === 'routine' ? withoutItems(one) : one, measures)} [source ${one.criterion.source}]`,
        ),
      );
      const sourced = written.flatMap((line) =>
        [...line.replace(/^- (?:.*? Because: )?/, '').matchAll(/(.+?) \[(source [^\]]+)\](?: |$)/g)].flatMap(
          ([, said, by = '']) => by.split('; ').map((source) => `${said} [${source}]`),
        ),
      );
      expect(new Set(sourced)).toEqual(expected);
      expect(written.join('\n')).not.toMatch(/undefined|NaN|\[object/);
      for (const line of written) expect(line).not.toMatch(/ +$|\d\.\d{9}/);
    }),
    { numRuns: 100 },
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
