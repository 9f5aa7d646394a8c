/** What holds for every calculator in the register, whatever it computes. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import fc from 'fast-check';
import { compile, evaluate, type Unit, unit } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Field, Formula, RawInputs, TypedNumber } from '../../calculators/calculator.ts';
import { calculate, calculators } from '../../calculators/index.ts';
import { register } from '../../calculators/register.ts';
import { samples } from '../samples.ts';

interface Example {
  name: string;
  given: RawInputs;
  gives?: Record<string, number>;
  refuses?: string;
  tolerance?: number;
  source: string;
  standing: string;
}

const files = new Map(
  globSync('calculators/**/*.examples.yaml').map((file) => [basename(file, '.examples.yaml'), file]),
);
const examplesOf = (id: string): Example[] => {
  const file = files.get(id);
  return file === undefined ? [] : parse(readFileSync(file, 'utf8'));
};

describe.each(Object.entries(calculators))('%s', (id, calculator) => {
  test('is called the same in the register, in its file and in itself', () => {
    expect(calculator.id).toBe(id);
    expect(register[id]?.toString()).toContain(`/${id}.ts`);
  });

  test('has a worked example with a source', () => {
    const examples = examplesOf(id);
    expect(examples.length).toBeGreaterThan(0);
    expect(examples.filter((example) => !example.source || !example.standing)).toEqual([]);
  });

  test.each(examplesOf(id).map((example) => [example.name, example] as const))('example: %s', (_, example) => {
    const outcome = calculate(id, example.given);
    if (example.refuses !== undefined) {
      expect(outcome.ok ? outcome.results : outcome.problems.map((problem) => problem.field)).toContain(
        example.refuses,
      );
      return;
    }
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    expect(Object.keys(example.gives ?? {})).not.toEqual([]);
    for (const [name, expected] of Object.entries(example.gives ?? {}))
      expect(
        Math.abs((outcome.results[name]?.value ?? Number.NaN) - expected),
        `${name}: ${outcome.results[name]?.value}`,
      ).toBeLessThanOrEqual(example.tolerance ?? 1e-9);
  });

  test('names a source, with locator and standing, and a caution', () => {
    expect(calculator.citations.length).toBeGreaterThan(0);
    expect(calculator.citations.filter((citation) => citation.locator.trim() === '')).toEqual([]);
    expect(calculator.cautions.length).toBeGreaterThan(0);
  });

  test.each(Object.entries(calculator.formulas))(
    'formula %s: the text printed gives what the function runs',
    (_, formula) => {
      const text = compile(formula.text);
      fc.assert(
        fc.property(valuesFor(formula), (values) => {
          const printed = text.evaluate(values);
          const run = formula.run(values);
          expect(Math.abs(printed - run)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(run)));
        }),
        samples(300, 2000),
      );
    },
  );

  test.each(Object.entries(calculator.formulas))('formula %s: the dimensions balance', (_, formula) => {
    const values = fc.sample(valuesFor(formula), { numRuns: 5, seed: 7 });
    for (const plain of values) {
      const scope = Object.fromEntries(
        Object.entries(plain).map(([name, value]) => [
          name,
          formula.symbols[name]?.unit ? unit(value, formula.symbols[name].unit) : value,
        ]),
      );
      const dimensioned: Unit | number = evaluate(formula.withUnits ?? formula.text, scope);
      const value = formula.unit === '' ? Number(dimensioned) : (dimensioned as Unit).toNumber(formula.unit);
      expect(value).toBeCloseTo(formula.run(plain), 6);
    }
  });

  test('whatever is typed, the answer is finite or a problem is named', () => {
    fc.assert(
      fc.property(inputsFor(calculator.fields), (inputs) => {
        const outcome = calculator.calculate(inputs as RawInputs);
        if (outcome.ok)
          for (const { value, low, high } of Object.values(outcome.results))
            expect([value, low ?? 0, high ?? 0].every(Number.isFinite)).toBe(true);
        else {
          expect(outcome.problems.length).toBeGreaterThan(0);
          for (const problem of outcome.problems)
            expect([problem.message.length > 0, Object.hasOwn(calculator.fields, problem.field)]).toEqual([true, true]);
        }
      }),
      samples(1000, 10_000),
    );
  });

  test('a result outside its plausible range, and only such a one, asks to check what was typed', () => {
    fc.assert(
      fc.property(inputsFor(calculator.fields), (inputs) => {
        const outcome = calculator.calculate(inputs as RawInputs);
        if (!outcome.ok) return;
        for (const [name, { value }] of Object.entries(outcome.results)) {
          const spec = calculator.results[name];
          if (!spec) throw new Error(`${name} is not declared`);
          const asks = outcome.cautions.some(
            (caution) => caution.startsWith(`${spec.label}: `) && caution.includes('is unusual. Check each number'),
          );
          expect([name, value, asks]).toEqual([name, value, value < spec.plausible[0] || value > spec.plausible[1]]);
        }
      }),
      samples(300, 3000),
    );
  });

  test('no example of its own is called unusual', () => {
    for (const { given, gives } of examplesOf(id)) {
      const outcome = calculate(id, given);
      if (gives && outcome.ok)
        expect(outcome.cautions.filter((caution) => caution.includes('is unusual. Check each number'))).toEqual([]);
    }
  });

  test('the plausible range lies inside the hard range', () => {
    const typed = Object.values(calculator.fields).flatMap((field): readonly TypedNumber[] =>
      field.kind === 'number' ? [field] : field.kind === 'series' ? field.columns : [],
    );
    for (const { plausible, hard } of typed) {
      expect(hard[0]).toBeLessThanOrEqual(plausible[0]);
      expect(plausible[0]).toBeLessThan(plausible[1]);
      expect(plausible[1]).toBeLessThanOrEqual(hard[1]);
    }
  });
});

const valuesFor = (formula: Formula) =>
  fc.record(
    Object.fromEntries(
      Object.entries(formula.symbols).map(([name, { range }]) => [
        name,
        fc.double({ min: range[0], max: range[1], noNaN: true, noDefaultInfinity: true }),
      ]),
    ),
    // mathjs cannot take a scope without a prototype
    { noNullPrototype: true },
  ) as fc.Arbitrary<Record<string, number>>;

const inputsFor = (fields: Record<string, Field>) =>
  fc.record(Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, entryFor(field)])));

const nonsense = fc.oneof(fc.double(), fc.string({ maxLength: 8 }), fc.constant(undefined), fc.constant(null));

/** Mostly plausible entries, so that the calculation is reached; sometimes anything at all. */
function entryFor(field: Field): fc.Arbitrary<unknown> {
  if (field.kind === 'choice')
    return fc.oneof(
      { weight: 12, arbitrary: fc.constantFrom(...field.options.map((option) => option.value)) },
      { weight: 1, arbitrary: nonsense },
    );
  if (field.kind === 'number') return numberFor(field);
  const row = (entry: (column: TypedNumber) => fc.Arbitrary<unknown>) =>
    fc.record(Object.fromEntries(field.columns.map((column) => [column.name, entry(column)])));
  return fc.oneof(
    { weight: 12, arbitrary: fc.array(row(plausible), { minLength: field.min, maxLength: Math.min(field.max, 12) }) },
    { weight: 3, arbitrary: fc.array(fc.oneof(row(numberFor), nonsense), { maxLength: field.max + 1 }) },
    { weight: 1, arbitrary: nonsense },
  );
}

const plausible = (field: TypedNumber): fc.Arbitrary<unknown> =>
  fc.double({ min: field.plausible[0], max: field.plausible[1], noNaN: true });

const numberFor = (field: TypedNumber): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 12, arbitrary: plausible(field) },
    { weight: 2, arbitrary: fc.double({ min: field.hard[0], max: field.hard[1], noNaN: true }) },
    { weight: 1, arbitrary: nonsense },
  );
