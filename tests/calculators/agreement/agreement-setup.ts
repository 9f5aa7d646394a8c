/** What the tests of clinic agreements share: the handbook as published, one small agreement, and random ones that fit. */
import fc from 'fast-check';
import {
  type AgreedCriterion,
  type Agreement,
  agreedSets,
  hiddenCharacter,
} from '../../../calculators/agreement/agreement.ts';
import { keep, type Published } from '../../../calculators/agreement/local-criteria.ts';
import { isEvaluated } from '../../../calculators/domain/comparator.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import { convert } from '../../../calculators/quantity.ts';
import { decisions, evidence, row } from '../evaluate/setup.ts';

export const published: Published = { ...evidence, decisions };

export const publishedCriterion = (id: string, more: Partial<AgreedCriterion> = {}): AgreedCriterion => {
  const found = row(id);
  return { ...keep(found, published.decisionOf(found.support) ?? '', `${id}-kept`), ...more };
};

/** A vital capacity that the clinic asks night ventilation for, in ALS, without a published criterion behind it. */
export const ownCriterion = (more: Partial<AgreedCriterion> = {}): AgreedCriterion => ({
  id: 'own',
  decision: 'night-ventilation',
  disease: 'als',
  population: 'adult',
  measure: 'fvc-percent',
  comparator: '<',
  value: 65,
  unit: '%',
  reason: 'Machines take three weeks to come',
  ...more,
});

export const agreement = (more: Partial<Agreement> = {}): Agreement => ({
  format: 'tidemark-agreement',
  version: 1,
  clinic: 'Tern Valley',
  agreed: '2026-11-25',
  review: '2027-11-25',
  agreedBy: ['Physician', 'Respiratory therapist'],
  phones: [{ label: 'Ventilation service', number: '01632 960 101' }],
  waits: [{ what: 'MI-E device', weeks: 6 }],
  evidence: { date: '2026-11-25' },
  marks: [publishedCriterion('aan-als-fvc-lt-50'), ownCriterion()],
  ...more,
});

/** Published criteria that a clinic can adopt: those a reading can meet, payer rules apart. */
export const keepable: Criterion[] = published.criteria.filter(
  (one) => isEvaluated(one) && published.measures[one.measure]?.kind !== 'schedule' && one.support !== 'coverage-us',
);

/** Any text that a reader could have typed: accents, other scripts, markup, quotes. */
const words = (most: number): fc.Arbitrary<string> =>
  fc
    .oneof(
      fc.string({ unit: 'grapheme', minLength: 1, maxLength: most }),
      fc.constantFrom('<img src=x onerror=alert(1)>', '"quoted", \\ and {braces}', '\u5d16\u306e\u8c37', 'a, b: c #d'),
    )
    .filter((text) => /\S/.test(text) && !hiddenCharacter.test(text) && text.length <= most);

const day = fc
  .tuple(fc.integer({ min: 2000, max: 2100 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }))
  .map(([year, month, date]) => `${year}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`);

const anyCriterion: fc.Arbitrary<Omit<AgreedCriterion, 'id'>> = fc
  .record({
    row: fc.constantFrom(...keepable),
    share: fc.double({ min: 0.01, max: 1, noNaN: true }),
    departs: fc.boolean(),
    basis: fc.boolean(),
    reason: words(120),
    read: fc.record({ role: words(40), date: day, locator: words(60) }),
  })
  .map(({ row: from, share, departs, basis, reason, read }) => {
    const measure = published.measures[from.measure];
    const { id: _, ...asPublished } = keep(from, published.decisionOf(from.support) ?? '', 'x');
    const unread = from.standing === 'from-memory' ? { read } : {};
    if (!departs || measure?.kind !== 'number' || asPublished.unit === undefined)
      return { ...asPublished, ...unread, ...(from.status === 'current' ? {} : { reason }) };
    const [low, high] = measure.hard.map((end) => convert(end, measure.unit, asPublished.unit ?? measure.unit));
    const top = high ?? 1;
    const value = Math.max(top * 0.001, Math.max(0, low ?? 0) + (top - Math.max(0, low ?? 0)) * share);
    const changed = { ...asPublished, value: Math.min(top, Number(value.toPrecision(4))), reason };
    if (basis) return { ...changed, ...unread };
    const { basis: _basis, rule: _rule, ...own } = changed;
    return own;
  });

/**
 * Agreements of any clinic that fit the handbook: published criteria adopted or changed, criteria of its own, any
 * words.
 */
export const anyAgreement: fc.Arbitrary<Agreement> = fc
  .record({
    clinic: words(80),
    jurisdiction: fc.option(words(40), { nil: undefined }),
    days: fc.tuple(day, day).map((two) => two.sort()),
    agreedBy: fc.array(words(40), { minLength: 1, maxLength: 4 }),
    set: fc.constantFrom(undefined, ...(Object.keys(agreedSets) as (keyof typeof agreedSets)[])),
    months: fc.option(fc.integer({ min: 0, max: 60 }), { nil: undefined }),
    phones: fc.array(
      fc.record({ label: words(40), number: fc.constantFrom('+44 1632 960101', '555 0100', '(01632) 960-102 ext 7') }),
      { maxLength: 3 },
    ),
    waits: fc.array(fc.record({ what: words(40), weeks: fc.integer({ min: 0, max: 60 }) }), { maxLength: 3 }),
    date: day,
    marks: fc.array(anyCriterion, { maxLength: 12 }),
    revision: fc.option(fc.integer({ min: 1, max: 999 }), { nil: undefined }),
    status: fc.constantFrom(undefined, 'draft' as const, 'agreed' as const, 'signed' as const),
    minutes: fc.option(
      fc.record({
        present: fc.array(words(40), { maxLength: 3 }),
        dissent: fc.array(fc.record({ by: words(40), says: words(80) }), { maxLength: 2 }),
        open: fc.array(fc.record({ says: words(80) }), { maxLength: 2 }),
      }),
      { nil: undefined },
    ),
  })
  .map(({ days: [agreed = '', review = ''], set, months, jurisdiction, marks, date, ...one }) => {
    const { revision, status, minutes, ...rest } = one;
    return {
      format: 'tidemark-agreement' as const,
      version: 1 as const,
      ...rest,
      ...(revision === undefined ? {} : { revision }),
      ...(status === undefined ? {} : { status }),
      ...(status === 'signed' ? { signed: { on: agreed, by: rest.agreedBy } } : {}),
      ...(jurisdiction === undefined ? {} : { jurisdiction }),
      agreed,
      review,
      ...(set === undefined ? {} : { referenceSet: set }),
      ...(set === 'gli-2012' ? { group: 'caucasian' as const } : {}),
      ...(months === undefined ? {} : { staleAfterMonths: months }),
      evidence: { date },
      marks: marks.map((criterion, place) => ({ id: `mark-${place + 1}`, ...criterion })),
      ...(minutes === undefined ? {} : { minutes }),
    };
  });
