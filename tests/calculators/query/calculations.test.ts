/** Calculations that a typed line asks for: what is taken for them, and that nothing dangerous is taken away by them. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { calculators } from '../../../calculators/index.ts';
import type { AskedVisit } from '../../../calculators/query/asked.ts';
import { calculationsOf } from '../../../calculators/query/calculations.ts';
import { visitOfReading } from '../../../calculators/query/read-line.ts';
import { calculationWords, readWhole, type StructuredLine, structureFaults } from './line-structure.ts';
import { linesOf, read } from './lines.ts';

const visit = (line: string): AskedVisit | undefined => {
  const query = readWhole(line);
  return query?.kind === 'reading' ? visitOfReading(query) : query?.kind === 'visit' ? query : undefined;
};
const worked = (line: string) => {
  const asked = visit(line);
  return asked ? calculationsOf(asked, asked.person, calculationWords) : [];
};

describe('the words of content/calculations.yaml', () => {
  test.each(Object.entries(calculationWords))(
    '%s: fields and options exist, and units can be converted',
    (id, words) => {
      const calculator = calculators[id];
      expect(calculator).toBeDefined();
      for (const name of Object.keys(words.numbers)) expect(calculator?.fields[name]?.kind).toBe('number');
      for (const [name, { options, always }] of Object.entries(words.choices)) {
        const field = calculator?.fields[name];
        const values = field?.kind === 'choice' ? field.options.map(({ value }) => value) : [];
        expect(values).toEqual(expect.arrayContaining([...Object.keys(options), ...(always ? [always] : [])]));
      }
    },
  );
});

// A number under a name that a criterion is about stays a reading: 16 mL/kg in Guillain-Barr\u00e9 is an emergency.
const danger = (
  parse(readFileSync('tests/reference/danger-table.yaml', 'utf8')) as { typed?: string; line?: string }[]
).flatMap(({ typed, line }) => typed ?? line ?? []);
const lines = [...danger, ...linesOf('lines-safety').map(({ line }) => line)];

test.each(lines)('takes no reading and no sign away: %s', (line) => {
  const alone = read(line);
  if (alone?.kind !== 'visit' && alone?.kind !== 'reading') return;
  const before = alone.kind === 'reading' ? visitOfReading(alone) : alone;
  const after = visit(line);
  expect(after?.readings).toMatchObject(before.readings);
  expect(after?.signs).toMatchObject(before.signs);
  expect(after?.supports).toMatchObject(before.supports);
});

test('there are enough such lines', () => expect(lines.length).toBeGreaterThan(300));

describe('a number of another name stays a reading, however the calculation is asked for', () => {
  test.each<[string, string, number]>([
    ['vc 1.3 l mic 2.1 l', 'vc-litres', 1.3],
    ['sats 88% e cylinder running low', 'spo2', 88],
    ['als sats 88 % cylinder 1000 psi at 2 l', 'spo2', 88],
    ['vc 1.1 l e cylinder 1500 psi 3 l/min', 'vc-litres', 1.1],
    ['co2 9.3 kpa in mmhg', 'paco2', 9.3],
    ['mip 3.5 kpa in cmh2o', 'mip', 3.5],
    ['fvc 40% ulna 24 cm', 'fvc-percent', 40],
    ['ibw gbs vc 16 ml/kg woman 160 cm', 'vc-per-kilogram', 16],
  ])('%s', (line, measure, value) => expect(visit(line)?.readings[measure]?.value).toBe(value));

  test('a height beside a forearm is the height', () => {
    const asked = visit('height 160 cm ulna 24 cm woman 50');
    expect(asked?.person.heightCm).toBe(160);
    expect(asked?.taken?.[0]?.numbers.ulna?.value).toBe(24);
  });

  test('what a calculation took is neither lost from the advice nor called not understood', () => {
    expect(visit('boy ibw 150 cm')?.hints[0]?.say).toContain('boy ibw 150 cm 8 years');
    expect(visit('sats 88% e cylinder 1000 psi at 2 l')?.notUnderstood).toEqual([]);
  });

  test('half a span is no span', () => expect(worked('demi span 82 cm woman 50')).toEqual([]));
});

describe('not a calculation', () => {
  test.each([
    'bmi 22 als',
    'gbs vc 16 ml/kg',
    'gbs vc 16 ml/kg for two days',
    'cylinder',
    'ulna',
    'weight 50 kg',
    'fvc 48 % predicted',
  ])('%s', (line) => expect(worked(line).filter(({ taken }) => taken !== undefined)).toEqual([]));
});

test('weight down to 52 kg asks for the weight before, and is a reading', () => {
  const asked = visit('als weight down to 52 kg');
  expect(asked?.readings.weight).toEqual({ value: 52, unit: 'kg' });
  const [wanted] = worked('als weight down to 52 kg');
  expect(calculators[wanted?.calculator ?? '']?.calculate(wanted?.inputs ?? {})).toMatchObject({
    ok: false,
    problems: [{ field: 'usual' }],
  });
});

test('an ideal weight is no weight of the person; a weight is', () => {
  expect(visit('gbs vc 1.1 l ideal weight 58 kg ml/kg')?.readings.weight).toBeUndefined();
  expect(visit('gbs vc 1.1 l weight 58 kg ml/kg')?.readings.weight).toEqual({ value: 58, unit: 'kg' });
});

test('a question for the per cent predicted asks for what is missing, unless the line says the per cent', () => {
  const asked = (line: string) => worked(line).find(({ calculator }) => calculator === 'predicted-vital-capacity');
  const wanted = asked('fvc 2.2 l 170 cm als % predicted?');
  expect(calculators['predicted-vital-capacity']?.calculate(wanted?.inputs ?? {})).toMatchObject({ ok: false });
  expect(asked('fvc 2.2 l, 60 % predicted, als')).toBeUndefined();
  expect(asked('als sats 92 on 2 l oxygen, what percent')).toBeUndefined();
});

test('an oxygen flow that belongs to someone stays oxygen; the same question alone is only a calculation', () => {
  expect(visit('als on 2 l nasal cannula sats 92')?.readings['oxygen-flow']?.value).toBe(2);
  expect(visit('nasal cannula 2 l fio2')?.signs).toEqual({});
});

/** The calculations of the corpus: what they gave when this was written, so that a later change cannot lose one. */
const corpus = parse(readFileSync('tests/reference/lines.yaml', 'utf8')) as StructuredLine[];
test('of the calculations in the corpus hardly one is missed', () => {
  const asked = corpus.filter(({ class: kind }) => kind === 'calculation');
  const missed = asked.filter((line) => structureFaults(line).length > 0).map(({ line }) => line);
  expect(missed.length / asked.length, missed.join('\n')).toBeLessThanOrEqual(0.25);
});
