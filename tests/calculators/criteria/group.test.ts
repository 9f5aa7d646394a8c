import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Criterion } from '../../../calculators/criteria/criterion.ts';
import { evaluate, type Finding } from '../../../calculators/criteria/evaluate.ts';
import { alarms, byDecision, shelfOf, tally, untoldAlarms, wouldSettle } from '../../../calculators/criteria/group.ts';
import type { Truth } from '../../../calculators/criteria/logic.ts';
import { anyVisit, criteria, decisions, evidence, mark, reading, visit } from './setup.ts';

/** A finding with nothing in it but its mark and its result. */
const bare = (criterion: Criterion, result: Truth = 'met'): Finding => ({
  criterion,
  result,
  parts: [],
  missing: [],
  flags: [],
});
const everythingMet = criteria.map((criterion) => bare(criterion));
const ids = (findings: readonly Finding[]) => findings.map(({ criterion }) => criterion.id);

describe('shelves', () => {
  test('from memory is unchecked, whatever else it is', () => {
    for (const criterion of criteria)
      expect(shelfOf(criterion) === 'unchecked').toBe(criterion.standing === 'from-memory');
  });

  test('a replaced edition stands with the replaced, a study with the background, a guideline and a payer rule with what acts', () => {
    expect(shelfOf(mark('eur2002-als-fvc-le-80-and-night-desaturation'))).toBe('replaced');
    expect(shelfOf(mark('evidence-als-pcf-lt-255-stable'))).toBe('background');
    expect(shelfOf(mark('caution-lvr-known-lung-disease'))).toBe('background');
    expect(shelfOf(mark('bts-child-vc-lt-60-annual-sleep-assessment'))).toBe('background');
    expect(shelfOf(mark('nice-mnd-fvc-lt-50'))).toBe('acted');
    expect(shelfOf(mark('us-rad-fvc-lt-50'))).toBe('acted');
  });
});

describe('alarms', () => {
  test('are the met emergency and same-day findings, emergencies first', () => {
    const raised = alarms(everythingMet);
    expect(raised.length).toBeGreaterThan(10);
    const urgencies = raised.map(({ criterion }) => criterion.urgency);
    expect(new Set(urgencies)).toEqual(new Set(['emergency', 'same-day']));
    expect(urgencies.lastIndexOf('emergency')).toBeLessThan(urgencies.indexOf('same-day'));
  });

  test('an unchecked number never raises one: the 15 mL/kg of acute cord injury is from memory', () => {
    expect(mark('sci-vc-lt-15-ml-kg')).toMatchObject({ urgency: 'emergency', standing: 'from-memory' });
    expect(ids(alarms(everythingMet))).not.toContain('sci-vc-lt-15-ml-kg');
    expect(alarms(everythingMet).filter(({ criterion }) => criterion.standing === 'from-memory')).toEqual([]);
  });

  test('nor does a replaced edition', () => {
    const old: Criterion = { ...mark('gbs-mep-lt-40'), status: { supersededBy: 'a newer edition' } };
    expect(alarms([bare(old)])).toEqual([]);
  });

  test('nor anything that is not met or cannot be told', () => {
    const urgent = mark('fallback-choking-or-airway-blocked');
    expect(alarms([bare(urgent, 'cannot-tell'), bare(urgent, 'not-met')])).toEqual([]);
  });

  test('the trade\u2019s common practice does: the fallback marks always show, and first', () => {
    const fallbacks = criteria.filter(
      ({ id, urgency }) => id.startsWith('fallback-') && ['emergency', 'same-day'].includes(urgency),
    );
    expect(fallbacks.length).toBeGreaterThanOrEqual(7);
    expect(ids(alarms(everythingMet))).toEqual(expect.arrayContaining(ids(fallbacks.map((one) => bare(one)))));
  });

  test('a chest infection at home: the emergency before the call today, before everything chronic', () => {
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
    const raised = ids(alarms(evaluate(sick, evidence)));
    expect(raised[0]).toBe('btsics-nmd-hypercapnia-unwell-niv-now');
    expect(raised.slice(1).sort()).toEqual(['fallback-chest-infection-with-weak-cough', 'fallback-spo2-lt-90-any-gas']);
  });
});

describe('urgent marks that cannot be told', () => {
  const untold = criteria.map((criterion) => bare(criterion, 'cannot-tell'));

  test('are those that would raise an alarm, had they been met', () => {
    expect(new Set(ids(untoldAlarms(untold)))).toEqual(new Set(ids(alarms(everythingMet))));
  });

  test('are none once each is settled', () => {
    expect(untoldAlarms(everythingMet)).toEqual([]);
    expect(untoldAlarms(criteria.map((criterion) => bare(criterion, 'not-met')))).toEqual([]);
  });
});

describe('the tally', () => {
  const acts = mark('nice-mnd-fvc-lt-50');

  test('counts the met, and the met and the not met as settled', () => {
    const findings = [bare(acts), bare(acts, 'not-met'), bare(acts, 'cannot-tell'), bare(acts, 'cannot-tell')];
    expect(tally(findings)).toEqual({ met: 1, settled: 2, of: 4 });
  });

  test('leaves out what is unchecked, replaced or background, and payer rules', () => {
    const others = [
      'sci-vc-lt-15-ml-kg',
      'eur2002-als-fvc-le-80-and-night-desaturation',
      'evidence-als-pcf-lt-255-stable',
      'us-rad-fvc-lt-50',
    ].map((id) => bare(mark(id)));
    expect(tally([...others, bare(acts)])).toEqual({ met: 1, settled: 1, of: 1 });
  });
});

describe('by decision', () => {
  const groups = byDecision(everythingMet, decisions, evidence.decisionOf);

  test('every finding is told once, in the decision that its support belongs to', () => {
    const told = groups.flatMap(({ decision, shelves }) =>
      Object.entries(shelves).flatMap(([shelf, list]) => list.map(({ criterion }) => ({ decision, shelf, criterion }))),
    );
    expect(told.length).toBe(criteria.length);
    for (const { decision, shelf, criterion } of told) {
      expect(decisions[decision]?.supports).toContain(criterion.support);
      expect(shelf).toBe(shelfOf(criterion));
    }
  });

  test('urgent help comes first and coverage last, and coverage holds nothing but payer rules', () => {
    expect(groups[0]?.decision).toBe('urgent-help');
    expect(groups.at(-1)?.decision).toBe('coverage');
    for (const { decision, shelves } of groups)
      for (const { criterion } of Object.values(shelves).flat())
        expect(criterion.use === 'coverage').toBe(decision === 'coverage');
  });

  test('coverage stays last even if its place in the list were first', () => {
    const shuffled = { ...decisions, coverage: { ...decisions.coverage, order: 0 } } as typeof decisions;
    expect(byDecision(everythingMet, shuffled, evidence.decisionOf).at(-1)?.decision).toBe('coverage');
  });

  test('on each shelf the met come first, then what cannot be told, then the not met', () => {
    const order = { met: 0, 'cannot-tell': 1, 'not-met': 2 };
    fc.assert(
      fc.property(anyVisit, (someone) => {
        for (const { shelves } of byDecision(evaluate(someone, evidence), decisions, evidence.decisionOf))
          for (const shelf of Object.values(shelves)) {
            const places = shelf.map(({ result }) => order[result]);
            expect(places).toEqual([...places].sort());
          }
      }),
      { numRuns: 30 },
    );
  });

  test('a finding whose decision is not known is told all the same, before the payer rules', () => {
    const lost = byDecision(everythingMet.slice(0, 3), decisions, () => undefined);
    expect(lost.map(({ decision }) => decision)).toEqual(['other']);
    expect(lost[0]?.shelves.acted.length).toBe(3);
  });

  test('grouping changes no finding and leaves the list as it was', () => {
    const findings = [...everythingMet];
    byDecision(findings, decisions, evidence.decisionOf);
    expect(findings).toEqual(everythingMet);
  });
});

describe('what would tell more', () => {
  const open = (id: string, missing: string[]): Finding => ({ ...bare(mark(id), 'cannot-tell'), missing });

  test('the measure that settles most comes first', () => {
    expect(
      wouldSettle([
        open('nice-mnd-fvc-lt-50', ['fvc-percent']),
        open('aan-als-snp-lt-40', ['snip']),
        open('chest-nmd-snip-weaker-than-40', ['snip']),
        open('nice-mnd-snip-or-mip-lt-65-men-with-symptoms', ['sex', 'fvc-percent', 'snip']),
      ]),
    ).toEqual([
      { measure: 'snip', count: 3 },
      { measure: 'fvc-percent', count: 2 },
      { measure: 'sex', count: 1 },
    ]);
  });

  test('nobody is sent to measure for a number from memory or an old edition', () => {
    expect(
      wouldSettle([
        open('ca-als-snip-le-40', ['snip']),
        open('eur2002-als-snp-le-40-and-night-desaturation', ['snip']),
      ]),
    ).toEqual([]);
  });

  test('what is settled asks for nothing', () => {
    expect(wouldSettle([bare(mark('aan-als-snp-lt-40'), 'met'), bare(mark('aan-als-fvc-lt-50'), 'not-met')])).toEqual(
      [],
    );
  });
});
