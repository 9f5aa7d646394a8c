/**
 * The edge of every published number, and whether these tests would notice if it moved.
 *
 * `boundaries.yaml` says, from the source's words, what a reading just below, at and just above each number does. Then
 * each number is broken on purpose in a copy of the criteria, one break at a time: `<` becomes `<=`, the direction is
 * turned round, the value moves by one in its last place. Each broken copy has to fail the table.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type Condition, type Criterion, isEvaluated } from '../../../calculators/domain/criterion.ts';
import type { Reading, Sign, Visit } from '../../../calculators/domain/visit.ts';
import { evaluate } from '../../../calculators/evaluate/evaluate.ts';
import type { Truth } from '../../../calculators/evaluate/logic.ts';
import type { UnitCode } from '../../../calculators/quantity.ts';
import { criteria, evidence, measures } from './setup.ts';

type Role = 'main' | 'alternative' | 'also';

interface Boundary {
  id: string;
  part?: Role;
  value: number;
  unit: UnitCode;
  below: Truth;
  at: Truth;
  above: Truth;
  says: string;
}

const boundaries: Boundary[] = parse(readFileSync('tests/calculators/evaluate/boundaries.yaml', 'utf8'));
const sides = ['below', 'at', 'above'] as const;

type Compared = Condition & { value: number };
const isCompared = (condition: Condition): condition is Compared => typeof condition.value === 'number';

/** The conditions of a criterion that compare a number with a reading, by the name the table gives them. */
function comparedIn(criterion: Criterion): { part: Role; condition: Compared }[] {
  const also = criterion.alsoRequires.flatMap((requirement) => ('anyOf' in requirement ? [] : [requirement]));
  const named: [Role, Condition][] = [
    ['main', criterion as unknown as Condition],
    ...(criterion.alternative ? [['alternative', criterion.alternative] as [Role, Condition]] : []),
    ...also.map((condition) => ['also', condition] as [Role, Condition]),
  ];
  return named.flatMap(([part, condition]) => (isCompared(condition) ? [{ part, condition }] : []));
}

const evaluated = criteria.filter(isEvaluated);
const comparedEverywhere = evaluated.flatMap((criterion) =>
  comparedIn(criterion).map(({ part }) => `${criterion.id} ${part}`),
);
const byId = new Map(evaluated.map((criterion) => [criterion.id, criterion]));
const nameOf = ({ id, part = 'main' }: Boundary) => `${id} ${part}`;

/** Far on the fulfilled side, or far on the other, so that only the reading in question decides. */
function settle(
  condition: Condition,
  fulfilled: boolean,
  readings: Record<string, Reading>,
  signs: Record<string, Sign>,
) {
  const { measure, comparator, value, unit } = condition;
  if (comparator === 'present' || comparator === 'absent')
    signs[measure] = fulfilled ? comparator : comparator === 'present' ? 'absent' : 'present';
  else if (value !== undefined && unit !== undefined) {
    const wantsLow = comparator.startsWith('<') === fulfilled;
    readings[measure] = { value: wantsLow ? value / 2 : value * 1.5, unit, gas: 'air' };
  }
}

/** Someone the criterion applies to, for whom everything but the reading in question is known. */
function visitAt(criterion: Criterion, { part = 'main', value, unit }: Boundary, by: number): Visit {
  const readings: Record<string, Reading> = {};
  const signs: Record<string, Sign> = {};
  const main = criterion as unknown as Condition;
  settle(main, part === 'also', readings, signs);
  if (criterion.alternative) settle(criterion.alternative, false, readings, signs);
  for (const requirement of criterion.alsoRequires)
    if ('anyOf' in requirement) signs[requirement.anyOf[0] ?? ''] = 'present';
    else settle(requirement, true, readings, signs);
  const { measure } =
    part === 'main'
      ? main
      : part === 'alternative'
        ? (criterion.alternative ?? main)
        : (comparedIn(criterion).find((one) => one.part === 'also')?.condition ?? main);
  const exact = Number((value + by).toPrecision(12));
  readings[measure] = { value: exact, unit, gas: 'air', ...(criterion.posture ? { posture: criterion.posture } : {}) };
  const { maxAgeYears, minAgeYears, population } = criterion;
  const grown = population === 'child' || maxAgeYears !== undefined ? (maxAgeYears ?? 15) : 30;
  return {
    disease: criterion.disease === 'any' ? 'other-chronic' : criterion.disease,
    ageYears: measure === 'age-years' ? exact : Math.max(grown, minAgeYears ?? 0),
    sex: criterion.sex ?? 'female',
    readings: measure === 'age-years' ? {} : readings,
    signs,
  };
}

/** One in the last place that the source prints: 0.01 for 1.25, 1 for 270. */
const lastPlace = (value: number): number => 10 ** -(String(value).split('.')[1]?.length ?? 0);

/** A tenth of that on either side: nearer than any other number the source could have printed. */
const steps = ({ value }: Boundary) => ({ below: -lastPlace(value) / 10, at: 0, above: lastPlace(value) / 10 });

const resultAt = (criterion: Criterion, boundary: Boundary, side: (typeof sides)[number]): string =>
  evaluate(visitAt(criterion, boundary, steps(boundary)[side]), { ...evidence, criteria: [criterion] })[0]?.result ??
  'out-of-scope';

describe('the table', () => {
  test('has one line for every number that is compared, and no other', () => {
    const lines = boundaries.map(nameOf);
    const missing = comparedEverywhere.filter((name) => !lines.includes(name));
    expect(missing.map((name) => `add a line for ${name} to tests/calculators/evaluate/boundaries.yaml`)).toEqual([]);
    expect(lines.filter((name, at) => !comparedEverywhere.includes(name) || lines.indexOf(name) !== at)).toEqual([]);
  });

  test('prints each criterion in the words of its source, with the unit that the criterion is in', () => {
    const wrong = boundaries.filter(({ id, part = 'main', value, unit, says }) => {
      const condition = comparedIn(byId.get(id) as Criterion).find((one) => one.part === part)?.condition;
      return condition?.unit !== unit || condition.value !== value || says.trim() === '';
    });
    expect(wrong).toEqual([]);
  });
});

describe.each(boundaries)('$id $part: $says', (boundary) => {
  const criterion = byId.get(boundary.id) as Criterion;
  test.each(sides)('%s', (side) => {
    expect(resultAt(criterion, boundary, side)).toBe(boundary[side]);
  });
});

test('a minus sign before a pressure changes nothing at any of its edges', () => {
  const turned = boundaries.flatMap((boundary) => {
    const criterion = byId.get(boundary.id) as Criterion;
    const part = comparedIn(criterion).find((one) => one.part === (boundary.part ?? 'main'));
    const measure = measures[part?.condition.measure ?? ''];
    if (measure?.kind !== 'number' || !measure.magnitude) return [];
    return sides.map((side) => {
      const seen = visitAt(criterion, boundary, steps(boundary)[side]);
      const id = part?.condition.measure ?? '';
      const typed = seen.readings[id] as Reading;
      const negative = { ...seen, readings: { ...seen.readings, [id]: { ...typed, value: -typed.value } } };
      return [boundary, side, evaluate(negative, { ...evidence, criteria: [criterion] })[0]?.result] as const;
    });
  });
  expect(turned.length).toBeGreaterThan(60);
  for (const [boundary, side, found] of turned)
    expect([boundary.id, side, found]).toEqual([boundary.id, side, boundary[side]]);
});

test('what a criterion says about a reading that equals it agrees with its own sign', () => {
  const strict = { '<': 'not-met', '>': 'not-met', '<=': 'met', '>=': 'met' } as Record<string, string>;
  const wrong = evaluated.filter(
    ({ comparator, atThreshold }) =>
      strict[comparator] !== undefined && atThreshold !== 'cannot-tell' && atThreshold !== strict[comparator],
  );
  expect(wrong.map(({ id }) => id)).toEqual([]);
});

interface Mutant {
  what: string;
  criterion: Criterion;
}

const looser = { '<': '<=', '<=': '<', '>': '>=', '>=': '>' } as const;
const opposite = { '<': '>', '<=': '>=', '>': '<', '>=': '<=' } as const;

/** Every way in which one number of a criterion could be changed by mistake, each in its own copy. */
function mutantsOf(original: Criterion): Mutant[] {
  return comparedIn(original).flatMap(({ part }, place) => {
    const mutant = (what: string, change: (condition: Compared) => void): Mutant => {
      const criterion = structuredClone(original);
      const found = comparedIn(criterion)[place];
      if (found) change(found.condition);
      return { what: `${original.id} ${part}: ${what}`, criterion };
    };
    const swap = (to: Record<string, string>) => (condition: Compared) => {
      condition.comparator = to[condition.comparator] as Condition['comparator'];
    };
    const move = (by: number) => (condition: Compared) => {
      condition.value = Number((condition.value + by * lastPlace(condition.value)).toPrecision(12));
    };
    // Where the source leaves equality open, what a strict sign could slip into is saying something about it.
    const equality =
      part === 'main' && original.atThreshold === 'cannot-tell'
        ? [
            {
              what: `${original.id} main: equality told`,
              criterion: { ...structuredClone(original), atThreshold: undefined },
            },
            {
              what: `${original.id} main: equality told as ${looser['<']}`,
              criterion: { ...structuredClone(original), atThreshold: undefined, comparator: '<=' as const },
            },
          ]
        : [mutant('equality swapped', swap(looser))];
    return [
      ...equality,
      mutant('direction turned', swap(opposite)),
      mutant('one more', move(1)),
      mutant('one less', move(-1)),
    ];
  });
}

const survives = ({ criterion }: Mutant): boolean =>
  boundaries
    .filter(({ id }) => id === criterion.id)
    .every((boundary) => sides.every((side) => resultAt(criterion, boundary, side) === boundary[side]));

test('an unbroken copy of every criterion passes the table, so that only what is broken is caught', () => {
  const failing = evaluated.filter(
    (criterion) => !survives({ what: 'as it is', criterion: structuredClone(criterion) }),
  );
  expect(failing.map(({ id }) => id)).toEqual([]);
});

test('every broken copy of a criterion is caught by the table', () => {
  const mutants = evaluated.flatMap(mutantsOf);
  const alive = mutants.filter(survives).map(({ what }) => what);
  const kinds = ['equality', 'direction', 'one more', 'one less'].map(
    (kind) => `${kind} ${mutants.filter(({ what }) => what.includes(`: ${kind}`)).length}`,
  );
  console.log(
    `Broken copies of the marks: ${mutants.length} (${kinds.join(', ')}); caught ${mutants.length - alive.length}, missed ${alive.length}`,
  );
  expect(mutants.length).toBeGreaterThanOrEqual(4 * boundaries.length);
  expect(alive).toEqual([]);
});
