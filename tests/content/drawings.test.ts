/** Drawings: the shapes do what their captions say, a drawing is told in words, and red is for danger. */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  blow,
  closingFlow,
  cough,
  coughWithoutSpike,
  dreams,
  machinePressure,
  nightCarbonDioxide,
  nightSaturation,
  openFlow,
  puff,
  supportFlow,
  supportPressure,
  unanswered,
} from '../../src/figures/parts/curves.ts';
import { drawn, placed, type Shape, sampled, thinned, written } from '../../src/figures/parts/path.ts';

const course = (shape: Shape, from: number, to: number): number[] => sampled(shape, from, to).map(([, value]) => value);
const area = (shape: Shape, from: number, to: number): number =>
  course(shape, from, to).reduce((sum, value) => sum + (value * (to - from)) / 400, 0);
const highest = (shape: Shape, from: number, to: number): number => Math.max(...course(shape, from, to));

describe('a cough', () => {
  test('breathes in, stops with the throat closed, and peaks in a spike that is gone in a tenth of a second', () => {
    expect(highest(cough, 0.05, 0.95)).toBeLessThan(0);
    expect(course(cough, 1.01, 1.24).every((flow) => flow === 0)).toBe(true);
    const peak = highest(cough, 1.25, 2.4);
    expect(cough(1.4)).toBeLessThan(0.65 * peak);
    expect(cough(1.4)).toBeGreaterThan(0.4 * peak);
  });
  test('without a spike it is lower and rounder; a puff is as tall as a cough and moves little air', () => {
    expect(highest(coughWithoutSpike, 1, 2.4)).toBeLessThan(0.5 * highest(cough, 1, 2.4));
    expect(highest(puff, 1, 2.4)).toBeCloseTo(highest(cough, 1, 2.4), 1);
    expect(area(puff, 1, 2.4)).toBeLessThan(0.2 * area(cough, 1.25, 2.4));
  });
});

test('cough machine: with a closing throat the flow stops while the pressure stays, and little comes out', () => {
  const cycle = { push: 1.5, pull: 1.8, pause: 1.5 };
  const closed = closingFlow(cycle, 0.42);
  for (const at of [0.6, 1, 1.4]) {
    expect(machinePressure(cycle)(at)).toBe(1);
    expect(closed(at)).toBeCloseTo(0, 5);
    expect(openFlow(cycle)(at)).toBeGreaterThan(0.04);
  }
  expect(Math.min(...course(closed, 1.5, 3.3))).toBeGreaterThan(0.5 * Math.min(...course(openFlow(cycle), 1.5, 3.3)));
  expect(machinePressure(cycle)(2.5)).toBe(-1);
  expect(machinePressure(cycle)(4.5)).toBe(0);
});

describe('a vital capacity', () => {
  const end = (fault: Parameters<typeof blow>[0]) => blow(fault, 4.5).at(-1)?.volume ?? 0;
  const peakAt = (fault: Parameters<typeof blow>[0]) =>
    blow(fault, 4.5).reduce((best, now) => (now.flow > best.flow ? now : best)).seconds;
  test('a good one peaks at once and ends flat, by itself', () => {
    expect(peakAt('none')).toBeLessThan(0.2);
    expect(end('none')).toBeGreaterThan(0.98);
    expect(blow('none', 4.5).at(-1)?.flow).toBeLessThan(0.01);
  });
  test('a leak and an early stop end low; a slow start peaks late and low; a cough stops the flow in the first second', () => {
    expect(end('leak')).toBeLessThan(0.8);
    expect(end('early-stop')).toBeLessThan(0.8);
    expect(peakAt('slow-start')).toBeGreaterThan(4 * peakAt('none'));
    const shut = blow('cough', 1).filter(({ seconds, flow }) => seconds > 0.2 && flow < 0.01);
    expect(shut.length).toBeGreaterThan(10);
  });
  test('air that is out stays out: no trace of volume ever falls', () => {
    for (const fault of ['none', 'leak', 'early-stop', 'slow-start', 'cough'] as const) {
      const volumes = blow(fault, 4.5).map(({ volume }) => volume);
      expect(volumes.every((volume, at) => volume >= (volumes[at - 1] ?? 0))).toBe(true);
    }
  });
});

test('ventilator: as much comes out as went in, nearly; an effort without an answer makes a small dent', () => {
  const breaths = [{ at: 0.5, lasts: 1 }];
  const [into, out] = [area(supportFlow(breaths), 0, 1.5), -area(supportFlow(breaths), 1.5, 4)];
  expect(out / into).toBeGreaterThan(0.5);
  expect(out / into).toBeLessThan(1.1);
  expect(supportPressure(breaths)(1)).toBeCloseTo(1, 5);
  expect(highest(unanswered([3], 0.3), 2, 5)).toBeCloseTo(0.3, 2);
  expect(unanswered([3], 0.3)(4)).toBeCloseTo(0, 5);
});

test('night: carbon dioxide is higher in each dream sleep than before it and does not come all the way back; saturation sags', () => {
  for (const [from, to] of dreams) {
    const middle = (from + to) / 2;
    expect(nightCarbonDioxide(middle)).toBeGreaterThan(nightCarbonDioxide(from));
    expect(nightCarbonDioxide(to + 0.35)).toBeGreaterThan(nightCarbonDioxide(from));
    expect(nightSaturation(middle)).toBeLessThan(nightSaturation(from) - 0.1);
    expect(nightSaturation(to + 0.35)).toBeCloseTo(nightSaturation(from), 1);
  }
});

describe('paths', () => {
  test('thinning keeps every corner, and no point is further from the line than told', () => {
    const corner = [...sampled((at) => Math.min(at, 5), 0, 10)];
    expect(thinned(corner, 0.1)).toEqual([
      [0, 0],
      [5, 5],
      [10, 5],
    ]);
  });
  test('written as ways, the pen ends where the line ends', () => {
    const wave = drawn(Math.sin, { left: 10, right: 290, top: 20, bottom: 120, from: 0, to: 9, low: -1, high: 1 });
    const numbers = [...wave.matchAll(/-?[\d.]+/g)].map(([found]) => Number(found));
    const x = numbers.reduce((sum, value, at) => sum + (at % 2 === 0 ? value : 0), 0);
    expect(x).toBeCloseTo(290, 1);
    expect(written([])).toBe('');
  });
  test('an outline is turned: left is mirrored, up lies on its back', () => {
    expect(placed('M10 20L-4 6', 100, 50, 2)).toBe('M120 90L92 62');
    expect(placed('M10 20L-4 6', 100, 50, 2, 'left')).toBe('M80 90L108 62');
    expect(placed('M10 20L-4 6', 100, 50, 2, 'up')).toBe('M140 30L112 58');
  });
});

const files = globSync('src/figures/*.astro');
/** Where something in the drawing can hurt someone. */
const dangerous = ['circuits', 'mie-closing-throat', 'oxygen-hides'];

test.each(files)('%s: told in words, with a caption, and red only where there is danger', (file) => {
  const text = readFileSync(file, 'utf8');
  // A curve that a question shows must not give the answer away, so it may be told in fewer words.
  const asked = basename(file).startsWith('curve-');
  expect(/<p slot="words">\s*(\S[\s\S]*?)<\/p>/.exec(text)?.[1]?.length).toBeGreaterThan(asked ? 80 : 150);
  expect(/slot="caption">([^<]+)/.exec(text)?.[1]?.length).toBeGreaterThanOrEqual(asked ? 15 : 40);
  expect(/shows="([^"]*)"/.exec(text)?.[1]?.length ?? 0).toBeGreaterThan(60);
  const isRed = /\b(?:warned|alarmed|danger)\b/.test(text);
  expect(isRed).toBe(dangerous.includes(basename(file, '.astro')));
  // The site's policy refuses styles in an attribute.
  expect(text).not.toMatch(/\bstyle=/);
});

test('each numbered place is explained in the list beside the drawing, and the other way round', () => {
  for (const file of files) {
    const text = readFileSync(file, 'utf8');
    const list = /<ol slot="key">[\s\S]*?<\/ol>/.exec(text)?.[0];
    if (!list) continue;
    const places = new Set([...text.matchAll(/n=\{(\d)\}/g)].map(([, n]) => n));
    if (places.size > 0) expect(places.size, file).toBe(list.match(/<li>/g)?.length);
  }
});
