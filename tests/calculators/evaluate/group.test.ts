import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { evaluate, type Finding, type Part } from '../../../calculators/evaluate/evaluate.ts';
import {
  byDecision,
  byUrgency,
  categoryOf,
  needsAttention,
  tally,
  tallyWords,
  undecidedUrgent,
  urgentFindings,
  withinAWeek,
} from '../../../calculators/evaluate/group.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import { anyVisit, criteria, decisions, evidence, reading, row, visit } from './setup.ts';

/** A finding with nothing in it but its criterion and its result. */
const bare = (criterion: Criterion, result: Truth = 'met', parts: Part[] = []): Finding => ({
  criterion,
  result,
  parts,
  missing: [],
  flags: [],
  decision: evidence.decisionOf(criterion.support),
});
/** Each criterion with the result that asks for attention, and with the one that does not. */
const everythingAsks = criteria.map((criterion) => bare(criterion, criterion.attentionWhen ?? 'met'));
const nothingAsks = criteria.map((criterion) => bare(criterion, criterion.attentionWhen ? 'met' : 'not-met'));
const ids = (findings: readonly Finding[]) => findings.map(({ criterion }) => criterion.id);
const urgent = (findings: readonly Finding[]) => urgentFindings(findings, decisions);

describe('categories', () => {
  test('from memory is unchecked, whatever else it is', () => {
    for (const criterion of criteria)
      expect(categoryOf(criterion) === 'unchecked').toBe(criterion.standing === 'from-memory');
  });

  test('a replaced edition is among the replaced, a study among study figures', () => {
    expect(categoryOf(row('eur2002-als-fvc-le-80-and-night-desaturation'))).toBe('replaced');
    expect(categoryOf(row('evidence-als-pcf-lt-255-stable'))).toBe('study');
  });

  test('a guideline, a caution, a schedule, a device limit and a payer rule all act', () => {
    for (const id of [
      'nice-mnd-fvc-lt-50',
      'caution-lvr-known-lung-disease',
      'bts-child-vc-lt-60-annual-sleep-assessment',
      'aarc2022-suction-pressure-adult',
      'us-rad-fvc-lt-50',
    ])
      expect([id, categoryOf(row(id))]).toEqual([id, 'acting']);
    for (const criterion of criteria)
      if (['caution', 'schedule', 'setting'].includes(criterion.use))
        expect(['acting', 'unchecked', 'replaced']).toContain(categoryOf(criterion));
  });
});

describe('what needs attention', () => {
  const schedule = row('chest-nmd-pft-at-least-every-6-months');

  test('is what is met, and a schedule or a limit that is not', () => {
    expect(needsAttention(bare(row('nice-mnd-fvc-lt-50')))).toBe(true);
    expect(needsAttention(bare(row('nice-mnd-fvc-lt-50'), 'not-met'))).toBe(false);
    expect(needsAttention(bare(schedule, 'met'))).toBe(false);
    expect(needsAttention(bare(schedule, 'not-met'))).toBe(true);
  });

  test('is never what cannot be told', () => {
    for (const criterion of criteria) expect(needsAttention(bare(criterion, 'cannot-tell'))).toBe(false);
  });

  test('is no limit that is known not to be about this person', () => {
    const suction = (throughTube: 'present' | 'absent') =>
      evaluate(
        visit({
          readings: { 'suction-pressure': reading(250, 'mm[Hg]') },
          signs: { 'suction-through-artificial-airway': throughTube },
        }),
        { ...evidence, criteria: [row('aarc2022-suction-pressure-adult')] },
      ).map(needsAttention);
    expect(suction('present')).toEqual([true]);
    expect(suction('absent')).toEqual([false]);
  });
});

describe('urgent findings', () => {
  test('are the met emergency and same-day findings, emergencies first', () => {
    const raised = urgent(everythingAsks);
    expect(raised.length).toBeGreaterThan(10);
    const urgencies = raised.map(({ criterion }) => criterion.urgency);
    expect(new Set(urgencies)).toEqual(new Set(['emergency', 'same-day']));
    expect(urgencies.lastIndexOf('emergency')).toBeLessThan(urgencies.indexOf('same-day'));
  });

  test('hold no number from memory but an emergency, which is never folded away because its source was not opened', () => {
    const memory = (urgency: Criterion['urgency']): Criterion => ({
      ...row('gbs-mep-lt-40'),
      standing: 'from-memory',
      urgency,
    });
    expect(urgent([bare(memory('emergency'))])).toHaveLength(1);
    expect(urgent([bare(memory('same-day'))])).toEqual([]);
    expect(
      urgent(everythingAsks).filter(
        ({ criterion }) => criterion.standing === 'from-memory' && criterion.urgency !== 'emergency',
      ),
    ).toEqual([]);
  });

  test('nor a replaced edition', () => {
    const old: Criterion = { ...row('gbs-mep-lt-40'), status: { supersededBy: 'a newer edition' } };
    expect(urgent([bare(old)])).toEqual([]);
  });

  test('nor anything that is not met or cannot be told', () => {
    const choking = row('fallback-choking-or-airway-blocked');
    expect(urgent([bare(choking, 'cannot-tell'), bare(choking, 'not-met')])).toEqual([]);
  });

  test('a study figure that is urgent leads as well: a cough flow of 160 in a chest infection', () => {
    const study = row('evidence-als-infection-unassisted-pcf-lt-166');
    expect(categoryOf(study)).toBe('study');
    expect(ids(urgent([bare(study)]))).toEqual([study.id]);
  });

  test('common practice leads: the fallback rows always show, and first', () => {
    const fallbacks = criteria.filter(
      ({ id, urgency }) => id.startsWith('fallback-') && ['emergency', 'same-day'].includes(urgency),
    );
    expect(fallbacks.length).toBeGreaterThanOrEqual(7);
    expect(ids(urgent(everythingAsks))).toEqual(expect.arrayContaining(ids(fallbacks.map((one) => bare(one)))));
  });

  test('a chest infection at home: the emergencies before the call today, before everything chronic', () => {
    const sick = visit({
      disease: 'dmd',
      ageYears: 19,
      readings: { spo2: reading(88, '%', { gas: 'oxygen' }), 'fvc-percent': reading(38, '%') },
      signs: {
        hypercapnia: 'present',
        'acutely-unwell': 'present',
        'respiratory-infection': 'present',
        'weak-cough': 'present',
      },
    });
    const raised = urgent(evaluate(sick, evidence));
    const emergencies = raised.filter(({ criterion }) => criterion.urgency === 'emergency');
    expect(ids(emergencies)).toEqual(
      expect.arrayContaining([
        'btsics-nmd-hypercapnia-unwell-niv-now',
        'fallback-co2-raised-and-unwell',
        'fallback-spo2-lt-90-any-gas',
      ]),
    );
    expect(raised.slice(0, emergencies.length)).toEqual(emergencies);
    expect(ids(raised.slice(emergencies.length))).toContain('fallback-chest-infection-with-weak-cough');
  });
});

describe('what is to be seen within a week', () => {
  test('is that urgency and no other, and nothing from memory', () => {
    const soon = withinAWeek(everythingAsks, decisions);
    expect(ids(soon)).toContain('fallback-niv-failing-despite-optimisation');
    for (const { criterion } of soon) {
      expect(criterion.urgency).toBe('within-1-week');
      expect(['acting', 'study']).toContain(categoryOf(criterion));
    }
  });

  test('holds nothing that does not ask', () => expect(withinAWeek(nothingAsks, decisions)).toEqual([]));
});

describe('the order of findings', () => {
  test('is by urgency, then by decision, with the clinic\u2019s own first and study figures last', () => {
    const sorted = [...everythingAsks].sort(byUrgency(decisions));
    const rank = ['emergency', 'same-day', 'within-1-week', 'routine'];
    const place = ({ decision = '' }: Finding) => {
      const found = decisions[decision];
      return (found?.coverage ? 1000 : 0) + (found?.order ?? 999);
    };
    for (const [at, after] of sorted.slice(1).entries()) {
      const before = sorted[at] as Finding;
      const step = rank.indexOf(after.criterion.urgency) - rank.indexOf(before.criterion.urgency);
      expect(step).toBeGreaterThanOrEqual(0);
      if (step === 0) expect(place(after)).toBeGreaterThanOrEqual(place(before));
    }
    const local = { ...row('nice-mnd-fvc-lt-50'), local: {} } as Criterion;
    const study = row('bourke2006-als-orthopnoea-and-mip-lt-60-percent-predicted');
    const three = [bare(study), bare(row('nice-mnd-fvc-lt-50')), bare(local)].map((one) => ({ ...one, decision: 'x' }));
    expect([...three].sort(byUrgency(decisions))).toEqual([three[2], three[1], three[0]]);
  });

  test('does not depend on the order they came in', () => {
    const sorted = ids([...everythingAsks].sort(byUrgency(decisions)));
    const again = ids([...everythingAsks].reverse().sort(byUrgency(decisions)));
    const urgencies = (names: string[]) => names.map((id) => row(id).urgency);
    expect(urgencies(again)).toEqual(urgencies(sorted));
  });
});

describe('urgent criteria that cannot be told', () => {
  const undecided = criteria.map((criterion) => bare(criterion, 'cannot-tell'));

  test('are those that would lead, had they been met', () => {
    // A row whose reading nobody is asked for leads when it is met, and is no open question.
    const asked = urgent(everythingAsks).filter(({ criterion }) => criterion.onlyIfRead !== true);
    expect(new Set(ids(undecidedUrgent(undecided)))).toEqual(new Set(ids(asked)));
  });

  test('are none once each is decided', () => {
    expect(undecidedUrgent(everythingAsks)).toEqual([]);
    expect(undecidedUrgent(nothingAsks)).toEqual([]);
  });
});

describe('the tally', () => {
  const acts = row('nice-mnd-fvc-lt-50');

  test('counts the met, and the met and the not met as decided', () => {
    const findings = [bare(acts), bare(acts, 'not-met'), bare(acts, 'cannot-tell'), bare(acts, 'cannot-tell')];
    expect(tally(findings)).toEqual({ met: 1, folded: 0, decided: 2, of: 4 });
  });

  test('a met caution and a schedule that is due count; a schedule that was kept does not', () => {
    const schedule = row('chest-nmd-pft-at-least-every-6-months');
    const caution = row('bts-home-oxygen-no-night-oxygen-alone');
    expect(tally([bare(caution), bare(schedule, 'not-met')])).toEqual({ met: 2, folded: 0, decided: 2, of: 2 });
    expect(tally([bare(schedule, 'met')])).toEqual({ met: 0, folded: 0, decided: 1, of: 1 });
  });

  test('what is unchecked, replaced or a study figure is counted apart, and payer rules not at all', () => {
    const others = [
      'ca-als-paco2-gt-45',
      'eur2002-als-fvc-le-80-and-night-desaturation',
      'evidence-als-pcf-lt-255-stable',
      'us-rad-fvc-lt-50',
    ].map((id) => bare(row(id)));
    expect(tally([...others, bare(acts)])).toEqual({ met: 1, folded: 3, decided: 1, of: 1 });
  });

  test.each([
    [{ met: 1, folded: 0 }, '1 criterion met'],
    [{ met: 3, folded: 0 }, '3 criteria met'],
    [{ met: 2, folded: 1 }, '2 criteria met; 1 more is met among study figures and criteria not yet checked'],
    [{ met: 1, folded: 4 }, '1 criterion met; 4 more are met among study figures and criteria not yet checked'],
    [{ met: 0, folded: 1 }, '1 criterion met, among study figures and criteria not yet checked'],
    [{ met: 0, folded: 2 }, '2 criteria met, among study figures and criteria not yet checked'],
  ])('%o is said as a sentence without a nought: %s', (count, words) => {
    expect(tallyWords({ ...count, decided: 9, of: 20 })).toBe(words);
    expect(words).not.toMatch(/\b0\b/);
  });

  test('a reading outside its usual range is counted as well, and is never called nothing', () => {
    const of = (met: number, unusual: number) => tallyWords({ met, folded: 0, decided: 9, of: 20 }, unusual);
    expect(of(0, 1)).toBe('1 reading outside the usual range');
    expect(of(0, 2)).toBe('2 readings outside the usual range');
    expect(of(2, 1)).toBe('2 criteria met; 1 reading outside the usual range');
    expect(of(2, 0)).toBe('2 criteria met');
  });

  test('with nothing met no number is said at all', () => {
    expect(tallyWords({ met: 0, folded: 0, decided: 9, of: 20 })).not.toMatch(/\d/);
  });
});

describe('by decision', () => {
  const groups = byDecision(everythingAsks, decisions);

  test('every finding is told once, in the decision that its support belongs to', () => {
    const grouped = groups.flatMap(({ decision, categories }) =>
      Object.entries(categories).flatMap(([category, list]) =>
        list.map(({ criterion }) => ({ decision, category, criterion })),
      ),
    );
    expect(grouped.length).toBe(criteria.length);
    for (const { decision, category, criterion } of grouped) {
      expect(decisions[decision]?.supports).toContain(criterion.support);
      expect(category).toBe(categoryOf(criterion));
    }
  });

  test('urgent help comes first and coverage last, and coverage holds nothing but payer rules', () => {
    expect(groups[0]?.decision).toBe('urgent-help');
    expect(groups.at(-1)?.decision).toBe('coverage');
    for (const { decision, categories } of groups)
      for (const { criterion } of Object.values(categories).flat())
        expect(criterion.use === 'coverage').toBe(decision === 'coverage');
  });

  test('coverage stays last even if its place in the list were first', () => {
    const shuffled = { ...decisions, coverage: { ...decisions.coverage, order: 0 } } as typeof decisions;
    expect(byDecision(everythingAsks, shuffled).at(-1)?.decision).toBe('coverage');
  });

  test('in each category what asks for attention comes first, then what cannot be told, then the rest; each by urgency', () => {
    fc.assert(
      fc.property(anyVisit, (someone) => {
        for (const { categories } of byDecision(evaluate(someone, evidence), decisions))
          for (const some of Object.values(categories)) {
            const places = some.map((one) => (needsAttention(one) ? 0 : one.result === 'cannot-tell' ? 1 : 2));
            expect(places).toEqual([...places].sort());
            const rank = ['emergency', 'same-day', 'within-1-week', 'routine'];
            for (const place of [0, 1, 2]) {
              const urgencies = some
                .filter((_, at) => places[at] === place)
                .map(({ criterion }) => rank.indexOf(criterion.urgency));
              expect(urgencies).toEqual([...urgencies].sort());
            }
          }
      }),
      { numRuns: 60 },
    );
  });

  test('a finding whose decision is not known is told all the same, before the payer rules', () => {
    const lost = everythingAsks.slice(0, 3).map((one) => ({ ...one, decision: undefined }));
    const payer = everythingAsks.filter(({ criterion }) => criterion.use === 'coverage');
    const byDecisions = byDecision([...payer, ...lost], decisions);
    expect(byDecisions.map(({ decision }) => decision)).toEqual(['other', 'coverage']);
    expect(Object.values(byDecisions[0]?.categories ?? {}).flat().length).toBe(3);
  });

  test('grouping changes no finding and leaves the list as it was', () => {
    const findings = [...everythingAsks];
    byDecision(findings, decisions);
    expect(findings).toEqual(everythingAsks);
  });
});
