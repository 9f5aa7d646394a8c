/** What the tests of the evaluator share: the published criteria as data, people to compare with them, and random visits. */
import fc from 'fast-check';
import type { Condition, Criterion } from '../../../calculators/domain/criterion.ts';
import type { Measure, NumberMeasure } from '../../../calculators/domain/measure.ts';
import { diseases } from '../../../calculators/domain/person.ts';
import { type Reading, type Sign, supportStatuses, type Visit } from '../../../calculators/domain/visit.ts';
import { type Evidence, evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { convert, type UnitCode } from '../../../calculators/quantity.ts';
import { readDecisions, readEvidence } from '../../read-content.ts';

export const evidence: Evidence = readEvidence();
export const decisions = readDecisions();
export const { criteria, measures } = evidence;

export function row(id: string): Criterion {
  const found = criteria.find((criterion) => criterion.id === id);
  if (!found) throw new Error(`no criterion ${id}`);
  return found;
}

export function numberMeasure(id: string): NumberMeasure {
  const found = measures[id];
  if (found?.kind !== 'number') throw new Error(`${id} is not a measured number`);
  return found;
}

/** A man of 60 with ALS, nothing measured and nothing asked. */
export const visit = (parts: Partial<Visit> = {}): Visit => ({
  disease: 'als',
  ageYears: 60,
  sex: 'male',
  readings: {},
  signs: {},
  ...parts,
});

export const reading = (value: number, unit: UnitCode, more: Partial<Reading> = {}): Reading => ({
  value,
  unit,
  ...more,
});

/** What one criterion makes of a visit; `out-of-scope` when it may not be shown at all. */
export const finding = (id: string, seen: Visit, known: Evidence = evidence): Finding | undefined =>
  evaluate(seen, { ...known, criteria: [row(id)] })[0];

export const result = (id: string, seen: Visit): string => finding(id, seen)?.result ?? 'out-of-scope';

/** A criterion made up for a test: ALS, any age, one condition. */
export const madeUp = (parts: Partial<Criterion> & Pick<Criterion, 'measure' | 'comparator'>): Criterion => ({
  ...row('aan-als-fvc-lt-50'),
  id: 'made-up',
  population: 'any',
  value: undefined,
  unit: undefined,
  atThreshold: undefined,
  ...parts,
});

export const resultOf = (criterion: Criterion, seen: Visit, more: Record<string, Measure> = {}): string =>
  evaluate(seen, { ...evidence, measures: { ...measures, ...more }, criteria: [criterion] })[0]?.result ??
  'out-of-scope';

const supported = Object.entries(decisions).flatMap(([id, decision]) => (decision.status ? [id] : []));
const counted = Object.entries(measures).flatMap(([id, measure]) => (measure.kind === 'number' ? [id] : []));
const asked = Object.entries(measures).flatMap(([id, measure]) => (measure.kind === 'sign' ? [id] : []));

/** Every threshold, by measure: random readings fall on and beside them. */
const thresholdsOf = new Map<string, { value: number; unit: UnitCode }[]>();
for (const criterion of criteria) {
  const conditions = [
    criterion as unknown as Condition,
    ...(criterion.alternative ? [criterion.alternative] : []),
    ...criterion.alsoRequires.flatMap((requirement) => ('anyOf' in requirement ? [] : [requirement])),
  ];
  for (const { measure, value, unit } of conditions)
    if (typeof value === 'number' && unit !== undefined)
      thresholdsOf.set(measure, [...(thresholdsOf.get(measure) ?? []), { value, unit }]);
}

/** A reading of a measure in one of its units, often on a threshold or a hair beside it, with whatever was flagged and breathed. */
export const anyReading = (id: string): fc.Arbitrary<Reading> => {
  const measure = numberMeasure(id);
  const [low, high] = measure.hard;
  const anywhere = fc
    .tuple(
      fc.integer({ min: Math.ceil(low * 10), max: Math.floor(high * 10) }),
      fc.constantFrom(measure.unit, ...measure.accepts),
    )
    .map(([tenths, unit]) => ({ value: Number(convert(tenths / 10, measure.unit, unit).toPrecision(4)), unit }));
  const near = (thresholdsOf.get(id) ?? []).map((there) =>
    fc
      .constantFrom(-0.1, -0.01, 0, 0.01, 0.1)
      .map((by) => ({ ...there, value: Number((there.value + by).toFixed(3)) })),
  );
  return fc
    .record({
      held: fc.oneof(anywhere, ...near),
      minus: fc.boolean(),
      flags: fc.subarray(measure.flags.map((flag) => flag.id)),
      gas: fc.constantFrom(undefined, 'air' as const, 'oxygen' as const, 'ventilation' as const),
      posture: fc.constantFrom(undefined, 'upright' as const, 'supine' as const),
      method: fc.constantFrom(undefined, ...(measure.methods ?? []), 'venous'),
    })
    .map(({ held, minus, flags, gas, posture, method }) => ({
      value: measure.magnitude && minus ? -held.value : held.value,
      unit: held.unit,
      ...(flags.length > 0 ? { flags } : {}),
      ...(measure.roomAir ? { gas } : {}),
      ...(measure.posture ? { posture } : {}),
      ...(measure.methods ? { method } : {}),
    }));
};

const someReadings = fc
  .subarray(counted.filter((id) => id !== 'age-years'))
  .chain((ids) => fc.tuple(...ids.map((id) => anyReading(id).map((one) => [id, one] as const))))
  .map((entries) => Object.fromEntries(entries) as Record<string, Reading>);

const someSigns = fc
  .subarray(asked)
  .chain((ids) =>
    fc.tuple(
      ...ids.map((id) => fc.constantFrom('present' as const, 'absent' as const).map((sign) => [id, sign] as const)),
    ),
  )
  .map((entries) => Object.fromEntries(entries) as Record<string, Sign>);

/** Anybody, with anything measured, asked, missing, flagged or already in place. */
export const anyVisit: fc.Arbitrary<Visit> = fc.record({
  disease: fc.constantFrom(undefined, ...diseases),
  ageYears: fc.oneof(
    fc.constant(undefined),
    fc.constantFrom(0, 1.9, 2, 11.9, 12, 15, 16, 17.9, 18),
    fc.integer({ min: 0, max: 95 }),
  ),
  sex: fc.constantFrom(undefined, 'female' as const, 'male' as const),
  readings: someReadings,
  signs: someSigns,
  supports: fc.dictionary(fc.constantFrom(...supported), fc.constantFrom(...supportStatuses), { maxKeys: 4 }),
});
