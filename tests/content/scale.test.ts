/** The scale: labels never meet and never leave the frame, whatever the thresholds are; and what the real ones say. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import {
  boldSize,
  frame,
  type GaugeLayout,
  gaugeRows,
  labelX,
  layOut,
  lineHeight,
  notchesOf,
  spread,
  staff,
  widthOf,
} from '../../src/components/gauge-layout.ts';
import { readEvidence, readSources } from '../read-content.ts';

const { criteria, measures } = readEvidence();
const sources = readSources();
const nameOf = (id: string) => sources[id]?.short ?? id;
const fvc = measures['fvc-percent'] as NumberMeasure;
const [sample] = criteria.filter(({ measure, value }) => measure === 'fvc-percent' && typeof value === 'number');

const anyRow = fc.record({
  value: fc.oneof(
    fc.integer({ min: Math.ceil(fvc.hard[0]), max: Math.floor(fvc.hard[1]) }),
    fc.constantFrom(50, 50.5, 51, 60, 80),
  ),
  comparator: fc.constantFrom('<', '<=', '>', '>='),
  disease: fc.constantFrom('als', 'dmd', 'any', 'mg', 'post-polio', 'sci-acute'),
  population: fc.constantFrom('adult', 'child', 'any'),
  standing: fc.constantFrom('checked', 'checked-in-summary', 'from-memory'),
  source: fc.constantFrom(...Object.keys(sources).slice(0, 60)),
});
const rowsOf = (some: readonly object[]): Criterion[] => some.map((one) => ({ ...sample, ...one }) as Criterion);
const laidOut = (some: readonly object[]): GaugeLayout =>
  layOut(gaugeRows(rowsOf(some), 'fvc-percent', fvc, nameOf), fvc) as GaugeLayout;

/** What is wrong with a layout, in words. */
function faults({ ticks, unchecked, height, top, bottom }: GaugeLayout): string[] {
  const found: string[] = [];
  let free = 0;
  for (const { head, lines, labelY, y } of ticks) {
    if (labelY < free - 0.1) found.push(`${head} begins at ${labelY}, over the label that ends at ${free}`);
    free = labelY + (head.length + lines.length) * lineHeight;
    if (free > height) found.push(`${head} ends at ${free}, below the frame of ${height}`);
    if (y < top || y > bottom) found.push(`${head} has its tick outside the staff`);
    for (const line of head) if (widthOf(line, boldSize) > frame - labelX) found.push(`"${line}" is too wide`);
    for (const line of lines) if (widthOf(line) > frame - labelX) found.push(`"${line}" is too wide`);
  }
  for (const [at, { letterY }] of unchecked.entries())
    if (at > 0 && letterY - (unchecked[at - 1]?.letterY ?? 0) < 16) found.push(`letter ${at} is over the one before`);
  return found;
}

describe('labels', () => {
  test('never overlap and never leave the frame, for any set of thresholds', () => {
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 24 }), (some) => {
        expect(faults(laidOut(some))).toEqual([]);
      }),
    );
  });

  test('each is at its own threshold where no other is near', () => {
    const { ticks } = laidOut([
      { value: 80, comparator: '<' },
      { value: 30, comparator: '<' },
    ]);
    expect(ticks.map(({ y, labelY }) => Math.abs(y - labelY - lineHeight / 2) < 0.2)).toEqual([true, true]);
  });

  test('those that would meet move as little as they can, up and down alike', () => {
    expect(spread([100, 100], [20, 20], 0, 300)).toEqual([90, 110]);
    expect(spread([0, 0, 200], [20, 20, 20], 0, 300)).toEqual([0, 20, 200]);
    expect(spread([300, 300], [20, 20], 0, 300)).toEqual([260, 280]);
  });
});

test('equal thresholds are one tick that counts its sources', () => {
  const { ticks } = laidOut([
    { value: 50, comparator: '<', source: 'aan-2009', disease: 'als' },
    { value: 50, comparator: '<', source: 'nice-ng42', disease: 'als' },
    { value: 50, comparator: '<', source: 'nice-ng42', disease: 'dmd' },
    { value: 50, comparator: '<=', source: 'nice-ng42', disease: 'dmd' },
  ]);
  const said = ticks.map(({ head, lines }) => [...head, ...lines].join(' '));
  expect(said[0]).toMatch(/^below 50.%.*2 sources\u00a0\u00b7 ALS, DMD$/);
  expect(said[1]).toMatch(/^at or below 50.%/);
  expect(ticks.map(({ closed }) => closed)).toEqual([false, true]);
});

test('a number not yet checked has no label among the others: it has a letter, which the key explains', () => {
  const { ticks, unchecked } = laidOut([
    { value: 50, comparator: '<', standing: 'checked' },
    { value: 65, comparator: '<', standing: 'from-memory', disease: 'als' },
    { value: 40, comparator: '<', standing: 'from-memory', disease: 'dmd' },
  ]);
  expect(ticks).toHaveLength(1);
  expect(unchecked.map(({ letter, words }) => `${letter} ${words}`)).toEqual([
    expect.stringMatching(/^a below 65.%.*\(ALS.*\)$/),
    expect.stringMatching(/^b below 40.%.*\(DMD.*\)$/),
  ]);
});

test('the words of a clinic\u2019s own threshold keep clear of those letters and of each other', () => {
  const place = { low: 0, high: 100, top: 16, bottom: 236 };
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 1, maxLength: 4 }),
      fc.array(fc.integer({ min: 16, max: 236 }), { maxLength: 4 }),
      (values, letters) => {
        const tops = notchesOf(
          values.map((value) => ({ value, words: `< ${value}` })),
          place,
          letters,
        ).map(({ label }) => label[0]?.y ?? 0);
        for (const [at, top] of tops.entries()) {
          expect(top - (tops[at - 1] ?? Number.NEGATIVE_INFINITY)).toBeGreaterThan(35.9);
          expect(letters.filter((letter) => letter > top - 14 && letter < top + 20)).toEqual([]);
        }
      },
    ),
  );
});

describe('every real scale', () => {
  const numbers = Object.entries(measures).filter(
    (entry): entry is [string, NumberMeasure] => entry[1].kind === 'number',
  );
  const scales = numbers.flatMap(([id, measure]) => {
    const layout = layOut(gaugeRows(criteria, id, measure, nameOf), measure);
    return layout ? [{ id, layout }] : [];
  });

  test('has no fault', () => {
    expect(scales.length).toBeGreaterThan(20);
    expect(scales.flatMap(({ id, layout }) => faults(layout).map((fault) => `${id}: ${fault}`))).toEqual([]);
  });

  test('says numbers as people do: no more than two digits after the point', () => {
    const words = scales.flatMap(({ layout: { ticks, unchecked } }) => [
      ...ticks.flatMap(({ head }) => head.join(' ')),
      ...unchecked.map(({ words }) => words),
    ]);
    expect(words.filter((one) => /\d\.\d{3}/.test(one))).toEqual([]);
    expect(words.some((one) => /6.kPa \(45.mmHg\)/.test(one))).toBe(true);
  });

  test('counts every criterion that was read, and letters the others', () => {
    const pco2 = scales.find(({ id }) => id === 'paco2')?.layout;
    const rows = gaugeRows(criteria, 'paco2', measures.paco2 as NumberMeasure, nameOf);
    const read = new Set(
      rows
        .filter((row) => row.criterion.standing !== 'from-memory')
        .map((row) => `${row.value} ${row.criterion.comparator}`),
    );
    expect(pco2?.ticks).toHaveLength(read.size);
    expect(staff).toBeLessThan(labelX);
  });
});
