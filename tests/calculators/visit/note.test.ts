import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import { explain, supportWords, withoutItems } from '../../../calculators/evaluate/explain.ts';
import { categoryOf, needsAttention, urgentFindings, withinAWeek } from '../../../calculators/evaluate/group.ts';
import { type NoteInput, noteText, plainNote } from '../../../calculators/visit/note.ts';
import { figureWords } from '../../../calculators/visit/note-figures.ts';
import { saidInParts } from '../../../calculators/visit/note-findings.ts';
import { plainAct, plainMeasures, plainSigns } from '../../../calculators/visit/plain-words.ts';
import { anyVisit, decisions, evidence, measures, reading, visit } from '../evaluate/setup.ts';

const noteOf = (
  write: typeof noteText,
  seen: Visit,
  supportTimes: NonNullable<NoteInput['supportTimes']> = {},
  more: Partial<NoteInput> = {},
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
    ...more,
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
  test('begins with who and when, why and what is asked, and ends by saying what findings are', () => {
    const lines = text.split('\n');
    expect(lines.slice(0, 4)).toEqual([
      'Respiratory visit on 2 March',
      'Man, 60 years, ALS / motor neurone disease, 176 cm',
      'Reason for this note: an emergency was found.',
      'I ask for help now: see Emergency.',
    ]);
    expect(lines.at(-1)).toMatch(
      /^Findings compare this visit with .* edition of 25 November 2026\. They are not a decision\./,
    );
  });

  test('goes from urgent to what is met, to figures, supports, what is not known, and to payer rules only when asked', () => {
    expect(headings).toEqual([
      'EMERGENCY',
      'SAME DAY',
      'WITHIN A WEEK',
      'DECLINED OR NOT TOLERATED',
      'FINDINGS',
      'FIGURES AND ANSWERS',
      'SUPPORTS, WISHES, COMMUNICATION',
      'NOT KNOWN',
    ]);
  });

  test('what is asked stands in the third sentence, with of whom and by when', () => {
    const asked = { asked: 'a night study', askedOf: 'the centre', askedBy: '2026-12-07' };
    const seen = visit({ signs: { orthopnoea: 'present' } });
    const line = (more: Partial<NoteInput>) => noteOf(noteText, seen, {}, more).split('\n')[3];
    expect(line({ ...asked, sayDate: (iso) => `the day ${iso}` })).toBe(
      'I ask the centre, by the day 2026-12-07: a night study.',
    );
    expect(line({ asked: 'a night study' })).toBe('I ask: a night study.');
    expect(line({ askedOf: 'the centre' })).toMatch(
      /^I ask the centre for an opinion on night ventilation and closer watching\.$/,
    );
    const two = noteOf(noteText, seen, {}, { asked: 'a night study\na call' });
    expect(two).toContain('I ask:\n- a night study\n- a call\n');
  });

  test('what can wait a week names the day', () => {
    const seen = visit({
      readings: { paco2: reading(6.2, 'kPa') },
      supports: { 'night-ventilation': 'in-place' },
      signs: { 'acutely-unwell': 'absent' },
    });
    expect(noteOf(noteText, seen, {}, { date: '2026-11-23' })).toContain(
      'I ask for a review within a week, by 2026-11-30: see Within a week.',
    );
  });

  test('what was asked and absent stands in one line, so that it does not bury what is there', () => {
    const seen = visit({
      signs: { orthopnoea: 'absent', 'morning-headache': 'absent', 'bulbar-dysfunction': 'present' },
    });
    expect(note(seen)).toContain(
      '- Present: bulbar weakness\n- Asked about and absent: orthopnoea; morning headache\n',
    );
  });

  test('a saturation on oxygen is not called one on air', () => {
    const seen = visit({ readings: { spo2: reading(93, '%', { gas: 'oxygen' }) } });
    expect(plain(note(seen))).toContain('- Measured: SpO2 93 % (on oxygen)');
    expect(plain(noteOf(plainNote, seen))).toContain('- Oxygen level: 93 %, on oxygen.');
  });

  test('hours of ventilation and the longest time off it stand with the support, while it is in place', () => {
    const times = { 'night-ventilation': { hours: '9', timeOff: '2 h, sitting' } };
    const of = (status: 'in-place' | 'not-tolerated') =>
      noteOf(noteText, visit({ supports: { 'night-ventilation': status } }), times);
    expect(of('in-place')).toContain(
      '- Supports: Night NIV: in place, 9 hours in 24, longest time off it: 2 h, sitting\n',
    );
    expect(of('not-tolerated')).toMatch(/- Supports: Night NIV: not tolerated$/m);
  });

  test('wishes and how the person answers are named as not recorded where nobody wrote them down', () => {
    expect(note(visit())).toContain(
      '- Supports: not recorded\n- Wishes: not recorded\n- Who answers, and how: not recorded',
    );
  });

  test('a low saturation on oxygen leads, with its act as the headline and the finding under it', () => {
    expect(linesUnder('EMERGENCY')).toEqual([
      '- Call the emergency number now; support ventilation and clear the airway. Because: SpO2 88 % is below 90 %. This finding applies unless the written plan says that the usual value is this low. [source trade-practice]',
    ]);
    expect(text.split('SpO2 88 % is below 90 %').length).toBe(2);
  });

  test('a raised CO2 that nobody tapped is a call today, and is to be seen within a week', () => {
    expect(linesUnder('SAME DAY')).toEqual([
      '- Call the ventilation service today. Because: CO2 is raised (PaCO2 6.2 kPa, capillary; threshold: above 6 kPa), and NIV is not in use. [source trade-practice]',
    ]);
    expect(linesUnder('WITHIN A WEEK')).toEqual(['- PaCO2 6.2 kPa is above 6 kPa. [source nice-ng42]']);
  });

  test('a support that was not tolerated stands beside what is urgent, so that nobody offers it as new', () => {
    expect(linesUnder('DECLINED OR NOT TOLERATED')).toEqual([`- Night NIV: ${supportWords['not-tolerated']}`]);
    const calm = note(visit({ signs: { orthopnoea: 'present' }, supports: { 'night-ventilation': 'declined' } }));
    expect(calm).not.toContain('DECLINED OR NOT TOLERATED');
  });

  test('figures stand as they were taken, in both units where two are in use, with gas, posture, method and flags', () => {
    expect(linesUnder('FIGURES AND ANSWERS').slice(0, 2)).toEqual([
      '- Measured: VC 1.9 L (sitting; flagged: leak at mask or mouthpiece, which reads low); SNIP 38 cmH2O; PaCO2 6.2 kPa (47 mmHg; capillary); SpO2 88 % (on oxygen); peak cough flow 4 L/s (240 L/min)',
      expect.stringMatching(
        /^- Calculated from these: FVC \d\d\.?\d? % predicted \(flagged: leak at mask or mouthpiece, which reads low\)$/,
      ),
    ]);
  });

  test.each([
    [{ value: 6, unit: 'kPa' }, 'PaCO2 6 kPa (45 mmHg)'],
    [{ value: 45.0037, unit: 'mm[Hg]' }, 'PaCO2 45 mmHg (6 kPa)'],
    [{ value: 44, unit: 'mm[Hg]' }, 'PaCO2 44 mmHg (5.9 kPa)'],
  ] as const)('%o is rounded as a person says it', (taken, words) => {
    expect(plain(figureWords('paco2', taken, measures))).toBe(words);
  });

  test('each met criterion is a statement with its source, and its flag', () => {
    const line = linesUnder('FINDINGS').find((one) => one.startsWith('- Night ventilation')) ?? '';
    expect(line).toContain('SNIP 38 cmH2O is below 40 cmH2O [source aan-2009; source chest-2023]');
    for (const statement of line.split('; ').filter((one) => one.includes('FVC')))
      expect(statement).toMatch(/flagged: leak/);
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
      /\nNOT KNOWN\n- Not an all-clear: [1-9]\d* urgent criteria could not be decided, because these were not asked: .*not breathing.*; these were not measured: .*breathing rate/,
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
    expect(told).toContain('Not an all-clear: 1 urgent criterion could not be decided');
  });

  test('met cautions and schedules that are due stand among the criteria, in words that say so', () => {
    expect(linesUnder('FINDINGS')).toContain(
      '- Oxygen with care: oxygen is used without ventilation (SpO2 88 %, on oxygen) [source gay-edmonds-1995]',
    );
    const due = plain(note(visit({ readings: { 'interval-months': reading(8, 'mo') } })));
    expect(due).toContain(
      'FINDINGS\n- Closer monitoring: time between tests 8 months is more than 6 months [source chest-2023]\n',
    );
    const kept = plain(note(visit({ readings: { 'interval-months': reading(5, 'mo') } })));
    expect(kept).not.toContain('FINDINGS');
  });

  test('what is met among study figures and unchecked numbers is counted, so that no silence hides it', () => {
    expect(text).toMatch(
      /\n- On the sheet, but no decision depends on them: [1-9]\d* more met among study figures and criteria not yet checked; [1-9] payer rules? met\./,
    );
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
      /OUTSIDE THE USUAL RANGE, AND NOT PART OF ANY FINDING IN THIS NOTE\n- SpO2 93 % \(on ventilation\) is below the usual 95 % \(common practice\)\. /,
    );
  });

  test('a saturation says when nobody noted what was breathed, for the centre and in plain words', () => {
    const seen = visit({ readings: { spo2: reading(93, '%') } });
    expect(plain(note(seen))).toContain('SpO2 93 % (it is not recorded whether this was on air or oxygen)');
    expect(plain(noteOf(plainNote, seen))).toContain(
      'Oxygen level: 93 %, and we did not write down whether oxygen was used.',
    );
  });

  test('a support that was not tolerated turns the criteria into a review, which leads', () => {
    expect(linesUnder('SUPPORTS, WISHES, COMMUNICATION')[0]).toBe(
      '- Supports: Night NIV: not tolerated; Cough assistance: none',
    );
    expect(text).toContain(`- Night ventilation. ${supportWords['not-tolerated']} Met: `);
    // once beside what is urgent and once with the criteria for it
    expect(text.split(supportWords['not-tolerated']).length).toBe(3);
  });

  test('payer rules, study figures and rates stand in it only when asked for, apart, and say what they are not', () => {
    expect(text).not.toMatch(/payer rules? met \(|L33800/i);
    const more = { withStatistics: true, statistics: ['FVC: \u22123 points a month'] };
    const whole = plain(noteOf(noteText, atHome, {}, more));
    const told = whole.slice(whole.indexOf('RATES AND DATES'));
    expect(told).toMatch(
      /^RATES AND DATES\n- FVC: .*\n\nSTUDY FIGURES MET \(NOT THRESHOLDS TO ACT ON\)\n- .*\n\nPAYER RULES MET \(NOT CLINICAL NEED, AND NOT A STATEMENT THAT THE PERSON QUALIFIES\)\n- .*\[source us-lcd-l33800\]/,
    );
    expect(whole).not.toContain('payer rule met.');
  });

  test('no number from memory is in it: Canada\u2019s 40 is unchecked', () => {
    expect(text).not.toContain('source cmaj-als-2020');
  });
});

describe('in plain words', () => {
  const call =
    /^(Call the emergency number|Follow your own plan, and call the team named in it at once,) for any of these$/m;
  const firstLine = (text: string) => text.split('\n')[0];

  test('in an emergency the first line says what to do now', () => {
    expect(firstLine(noteOf(plainNote, atHome))).toBe('This is an emergency. Call the emergency number now.');
  });

  test('where nothing is urgent, what to watch for stands before the numbers', () => {
    const told = noteOf(plainNote, visit({ readings: { snip: reading(38, 'cm[H2O]') } }));
    expect(firstLine(told)).toBe('Your breathing visit on 2 March');
    expect(told.search(call)).toBeGreaterThan(0);
    expect(told.search(call)).toBeLessThan(told.indexOf('What we measured'));
  });

  test.each(['no-hospital', 'comfort-only'] as const)('with the wish %s it is the person\u2019s own plan', (wish) => {
    const told = noteOf(plainNote, { ...atHome, wishes: [wish] });
    expect(firstLine(told)).toBe('This needs help now. Follow your own plan now.');
    expect(call.exec(told)?.[1]).toMatch(/^Follow your own plan/);
    expect(told).not.toMatch(/call the emergency number/i);
  });

  test('beside something urgent, a flagged reading that cannot rule out an emergency is still to be tested again', () => {
    const seen = (flags: string[]): string =>
      plain(
        note(
          derive(
            visit({
              readings: { spo2: reading(91, '%', { gas: 'air', flags }) },
              signs: { 'respiratory-infection': 'present', 'ineffective-cough': 'present' },
            }),
            { set: 'gli-2022-global' },
          ),
        ),
      );
    expect(seen(['poor-trace'])).toMatch(/^- Test again: SpO2.*cannot rule out an urgent criterion\.$/m);
    expect(seen([])).not.toContain('Test again');
  });

  test('a wish about ventilation alone takes no help away', () => {
    const told = noteOf(plainNote, { ...atHome, wishes: ['no-invasive-ventilation', 'not-discussed'] });
    expect(call.exec(told)?.[1]).toBe('Call the emergency number');
  });

  test('a flagged reading keeps its flag', () => {
    expect(plain(noteOf(plainNote, atHome))).toMatch(
      /- Biggest breath: 1\.9 L\. .*Leak at mask or mouthpiece, so the true number may be higher\./,
    );
  });

  test('a support that was declined is not asked about again: it stands under the wishes', () => {
    const told = noteOf(
      plainNote,
      visit({ signs: { orthopnoea: 'present' }, supports: { 'night-ventilation': 'declined' } }),
    );
    expect(told).toContain(
      'You said no to this: a mask and a machine that help with breathing at night. Your decision stands.',
    );
    expect(told.split('a machine that help with breathing at night').length).toBe(2);
    expect(told).toContain('You can change your mind at any time.');
  });

  test('low and high are said only on the side that gets worse', () => {
    // 96 % with sleep symptoms meets a criterion that asks for a saturation above 94 %
    const seen = visit({
      readings: { spo2: reading(96, '%', { gas: 'air' }) },
      signs: { 'unrefreshing-sleep': 'present', 'known-lung-disease': 'absent' },
    });
    expect(note(seen)).toContain('is above');
    expect(noteOf(plainNote, seen)).not.toMatch(/This is (low|high)/);
  });

  test('what an urgent finding asks for has no word of the trade in it, and loses neither whom to call nor when', () => {
    for (const { act } of evidence.criteria) {
      if (act === undefined) continue;
      const told = plainAct(act);
      expect([act, /\bNIV\b|ventilat|critical care|vital capacity|airway|secretion/i.test(told)]).toEqual([act, false]);
      for (const kept of ['emergency number', 'now', 'today', 'team'])
        if (act.includes(kept) && !act.includes('by hand')) expect([act, told.includes(kept)]).toEqual([act, true]);
    }
  });

  test('every measure and answer that something urgent can rest on has everyday words', () => {
    const urgent = evidence.criteria.filter(
      ({ urgency, standing }) => urgency !== 'routine' && standing !== 'from-memory',
    );
    const ids = new Set(urgent.flatMap(({ measure, alternative }) => [measure, alternative?.measure ?? measure]));
    const without = [...ids].filter((id) => plainSigns[id] === undefined && plainMeasures[id] === undefined);
    expect(without).toEqual([]);
  });
});

test('a visit with nothing in it says so, and invents nothing', () => {
  const empty = note({ readings: {}, signs: {} });
  expect(empty).toContain('Sex not given, age not given, disease not given');
  expect(empty).not.toMatch(/FINDINGS|EMERGENCY|SAME DAY|Measured|Present|OUTSIDE/);
  expect(empty).toContain('Most useful to measure or ask next');
  expect(empty).toContain('Not an all-clear');
});

const escaped = (words: string) => words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

const inputFor = (seen: Visit): NoteInput => ({
  visit: seen,
  findings: [],
  evidence,
  decisions,
  sourceName: (id) => `source ${id}`,
  date: '2 March',
  evidenceDate: '25 November 2026',
});

test('the note of any visit holds every urgent finding and everything else that asks for attention, and no other finding', () => {
  fc.assert(
    fc.property(anyVisit, (seen) => {
      const findings = evaluate(seen, evidence);
      const written = plain(noteOf(noteText, seen, {}, { withStatistics: true }));
      const leading = new Set([...urgentFindings(findings, decisions), ...withinAWeek(findings, decisions)]);
      const asks = findings.filter(
        (one) => needsAttention(one) && ['acting', 'study'].includes(categoryOf(one.criterion)),
      );
      for (const one of leading)
        expect(written).toMatch(
          new RegExp(`${escaped(plain(explain(one, measures)))} \\[[^\\]]*source ${one.criterion.source}[,;\\]]`),
        );
      const body = written.slice(written.search(/^(FINDINGS|FIGURES AND ANSWERS|SUPPORTS, WISHES)/m));
      const lines = body.toLowerCase().split('\n');
      const filler = new Set(['this', 'finding', 'applies', 'there', 'is', 'are', 'and']);
      for (const one of asks.filter((finding) => !leading.has(finding))) {
        const { subject, where, by } = saidInParts(inputFor(seen), one);
        // Nothing of the finding's own sentence is lost on the way, and its source stands in the same line.
        const own = plain(explain(withoutItems(one), measures)).toLowerCase();
        const words = (own.match(/[a-z0-9.]+(?<!\.)/g) ?? []).filter((word) => !filler.has(word));
        const needed = [subject, where, by].map((said) => plain(said).toLowerCase());
        const line = lines.find((text) => needed.every((said) => text.includes(said)));
        expect([one.criterion.id, line === undefined]).toEqual([one.criterion.id, false]);
        expect([one.criterion.id, words.filter((word) => !line?.includes(word))]).toEqual([one.criterion.id, []]);
      }
      // And no other: every source in brackets belongs to a finding that asks for attention.
      const sources = new Set([...leading, ...asks].map(({ criterion }) => criterion.source));
      for (const [, by = ''] of body.matchAll(/\[(source [^\]]+)\]/g))
        for (const [, source = ''] of by.matchAll(/source ([a-z0-9-]+)/g)) expect(sources).toContain(source);
      expect(written).not.toMatch(/undefined|NaN|\[object/);
      for (const line of written.split('\n')) expect(line).not.toMatch(/ +$|\d\.\d{9}/);
    }),
    { numRuns: 100 },
  );
});

test('who answers and what the person wants stand in it', () => {
  const seen = visit({ readings: { snip: reading(38, 'cm[H2O]') }, wishes: ['no-hospital', 'comfort-only'] });
  const written = noteOf(noteText, seen, {}, { answers: 'the daughter' });
  expect(written).toContain('- Who answers, and how: the daughter\n');
  expect(written).toContain('- Wishes: does not want to go to hospital; wants comfort only\n');
});

describe('with an earlier visit', () => {
  const before = visit({
    readings: { snip: reading(45, 'cm[H2O]') },
    signs: { orthopnoea: 'absent', 'morning-headache': 'present' },
    supports: { 'night-ventilation': 'none' },
  });
  const now = visit({
    readings: { snip: reading(38, 'cm[H2O]') },
    signs: { orthopnoea: 'present', 'morning-headache': 'absent', 'weak-cough': 'present' },
    supports: { 'night-ventilation': 'ordered' },
  });
  const previous = { date: '2026-08-24', visit: before, findings: evaluate(before, evidence) };
  const written = plain(noteOf(noteText, now, {}, { previous, since: ['SNIP 38 cmH2O, was 45 cmH2O'] }));

  test('what changed is said: readings, complaints that were asked both times, supports', () => {
    expect(written).toContain(
      'SINCE 2026-08-24\n- SNIP 38 cmH2O, was 45 cmH2O\n- Met now, not met last time: orthopnoea\n- Met last time, no longer met: morning headache\n- Night NIV: ordered, was none\n',
    );
  });

  test('new findings stand apart from those that were met then as well, and none is lost or told twice', () => {
    const [, isNew = '', old = ''] =
      /NEW FINDINGS\n([\s\S]*?)\n\nMET LAST TIME AND NOW\n([\s\S]*?)\n\n/.exec(written) ?? [];
    expect(isNew).toContain('SNIP 38 cmH2O is below 40 cmH2O');
    expect(isNew).toContain('there is orthopnoea');
    expect(old).toContain('symptoms or signs of respiratory impairment');
    expect(old).not.toContain('orthopnoea');
    expect(written.split('\n')[2]).toMatch(
      /^Reason for this note: since 2026-08-24 new criteria are met for night ventilation \(ordered\)/,
    );
  });
});

test('the clinic agreement and the edition stand in one line', () => {
  const agreement = { name: 'Tern Valley Neuromuscular Clinic', digest: '4f1c 9a0e' };
  const lines = noteOf(noteText, visit(), {}, { agreement }).split('\n');
  expect(lines.at(-1)).toContain(
    'edition of 25 November 2026, and with the agreement of Tern Valley Neuromuscular Clinic (digest 4f1c 9a0e). They are not a decision',
  );
});
