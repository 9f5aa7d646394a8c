/** Files are built byte by byte in `build.ts` from the format's own table; expected values are the ones put in. */

import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../../calculators/learning/random.ts';
import { type EdfOptions, readEdf } from '../../../calculators/night-oximetry/read-edf.ts';
import type { FileProblem } from '../../../calculators/night-oximetry/recording.ts';
import { summarise } from '../../../calculators/night-oximetry/summary.ts';
import { type EdfSignal, edfOf, edfOfNight, flat, ramp } from './build.ts';

function read(buffer: ArrayBuffer, options?: EdfOptions) {
  const found = readEdf(buffer, options);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return { ...found.recording, notes: found.notes, understood: found.understood };
}

function problem(buffer: ArrayBuffer): FileProblem {
  const found = readEdf(buffer);
  if (found.ok) throw new Error('was read');
  return found.problems[0] as FileProblem;
}

const saturation = (stored: number[], more: Partial<EdfSignal> = {}): EdfSignal => ({
  label: 'SpO2',
  dimension: '%',
  physical: [0, 100],
  digital: [0, 1000],
  samples: 1,
  stored,
  ...more,
});

/** The file with some bytes of its header replaced. */
function altered(buffer: ArrayBuffer, at: number, text: string): ArrayBuffer {
  const copy = buffer.slice(0);
  const bytes = new Uint8Array(copy);
  for (let place = 0; place < text.length; place += 1) bytes[at + place] = text.charCodeAt(place);
  return copy;
}

test('saturation, pulse, start and rate are read', () => {
  const night = read(edfOfNight([96, 95, 94.5, 88]));
  expect([...night.spo2]).toEqual([96, 95, 94.5, 88]);
  expect([...(night.pulse ?? [])]).toEqual([62, 62, 62, 62]);
  expect([...night.seconds]).toEqual([0, 1, 2, 3]);
  expect(night.startedAt).toBe('2026-11-20T22:00:00');
  expect(night.understood.join(' ')).toMatch(/signal "SpO2", 1 a second.*signal "Pulse"/);
  expect(night.notes).toEqual([]);
});

test('the start is read to the second', () => {
  expect(read(edfOfNight([96, 95], { time: '22.41.05' })).startedAt).toBe('2026-11-20T22:41:05');
  expect(read(edfOfNight([96, 95], { date: '31.12.99', time: '00.00.59' })).startedAt).toBe('1999-12-31T00:00:59');
  expect(read(edfOfNight([96, 95], { time: '22.60.05' }))).not.toHaveProperty('startedAt');
});

test('saturation four times a second beside a pulse once a second, in records of ten seconds', () => {
  const night = read(
    edfOf({
      records: 2,
      secondsEach: 10,
      signals: [
        { label: 'Flow', physical: [-1, 1], digital: [-2048, 2047], samples: 250, stored: [] },
        {
          label: 'Pulse',
          physical: [0, 250],
          digital: [0, 250],
          samples: 10,
          stored: Array.from({ length: 20 }, (_, at) => 60 + at),
        },
        saturation(
          Array.from({ length: 80 }, (_, at) => 900 + at),
          { samples: 40 },
        ),
      ],
    }),
  );
  expect(night.seconds[39]).toBe(9.75);
  expect(night.seconds[40]).toBe(10);
  expect(night.spo2[0]).toBe(90);
  expect(night.spo2[79]).toBeCloseTo(97.9, 4);
  expect(night.pulse?.[0]).toBe(60);
  expect(night.pulse?.[43]).toBe(70);
});

test('88 stored in 65,536 steps is 88, and still at or below 88', () => {
  // 88 % lies between two steps of 100/65535: the nearer one is 88.0003.
  const stored = Math.round((88 / 100) * 65_535) - 32_768;
  const scaled = ((stored + 32_768) * 100) / 65_535;
  expect(scaled).not.toBe(88);
  const night = read(
    edfOf({ records: 100, signals: [saturation(Array(100).fill(stored), { digital: [-32_768, 32_767] })] }),
  );
  expect(night.spo2[0]).toBe(88);
  const found = summarise(night);
  expect(found.ok && found.summary.atOrBelow88Seconds).toBe(100);
});

test('a stored number outside the range that the header promises is no value', () => {
  expect([...read(edfOf({ records: 2, signals: [saturation([950, -1])] })).spo2]).toEqual([95, Number.NaN]);
});

describe('which signal', () => {
  test.each(['SaO2', 'SpO2 finger', 'Osat', 'O2 Sat', 'Saturation'])('"%s" is taken as the saturation', (label) => {
    expect(read(edfOf({ records: 2, signals: [{ ...saturation([950, 951]), label }] })).spo2[0]).toBe(95);
  });

  test('a quality channel beside it is not', () => {
    const night = read(
      edfOf({ records: 2, signals: [{ ...saturation([1, 1]), label: 'SpO2 Quality' }, saturation([950, 951])] }),
    );
    expect(night.spo2[0]).toBe(95);
  });

  test('two saturations are asked about, and the answer is taken', () => {
    const file = edfOf({
      records: 2,
      signals: [
        { ...saturation([950, 951]), label: 'SpO2 left' },
        { ...saturation([900, 901]), label: 'SpO2 right' },
      ],
    });
    const found = problem(file);
    expect(found.question).toMatchObject({ sets: 'spo2Signal', choices: [{ value: '0' }, { value: '1' }] });
    expect(read(file, { spo2Signal: 1 }).spo2[0]).toBe(90);
  });

  test('none is told with the labels that are there', () => {
    expect(problem(edfOf({ records: 2, signals: [{ ...saturation([1, 2]), label: 'EEG Fpz-Cz' }] })).message).toContain(
      '"EEG Fpz-Cz"',
    );
  });
});

describe('EDF+', () => {
  const stamps = (...seconds: number[]): EdfSignal => ({
    label: 'EDF Annotations',
    physical: [-1, 1],
    digital: [-32_768, 32_767],
    samples: 8,
    stored: seconds.flatMap((second) => {
      const text = `+${second}\u0014\u0014\0`.padEnd(16, '\0');
      return Array.from({ length: 8 }, (_, at) => text.charCodeAt(at * 2) + 256 * text.charCodeAt(at * 2 + 1));
    }),
  });

  test('annotations beside the signals are passed over', () => {
    expect(
      read(edfOf({ records: 3, reserved: 'EDF+C', signals: [saturation([950, 951, 952]), stamps(0, 1, 2)] })).spo2
        .length,
    ).toBe(3);
  });

  test('an interrupted file keeps its gap', () => {
    const night = read(
      edfOf({ records: 3, reserved: 'EDF+D', signals: [saturation([950, 951, 952]), stamps(0, 1, 600)] }),
    );
    expect([...night.seconds]).toEqual([0, 1, 600]);
  });

  test.each(['+0.5', '-3', '+12.25'])('a record that begins at %s is counted from the first', (first) => {
    const text = (words: string) => `${words}\u0014\u0014\0`.padEnd(16, '\0');
    const words = text(first) + text('+600');
    const stored = Array.from({ length: 16 }, (_, at) => words.charCodeAt(2 * at) + 256 * words.charCodeAt(2 * at + 1));
    const annotations = { ...stamps(0, 1), samples: 8, stored };
    const night = read(edfOf({ records: 2, reserved: 'EDF+D', signals: [saturation([950, 951]), annotations] }));
    expect([...night.seconds]).toEqual([0, 600 - Number(first)]);
  });

  test.each(['30', '+30s', 'x+30', '+', '+3.x'])('"%s" is no time of a record', (words) => {
    const text = `${words}\u0014\u0014\0`.padEnd(16, '\0');
    const stored = Array.from({ length: 8 }, (_, at) => text.charCodeAt(2 * at) + 256 * text.charCodeAt(2 * at + 1));
    const annotations = { ...stamps(0), samples: 8, stored };
    expect(
      problem(edfOf({ records: 1, reserved: 'EDF+D', signals: [saturation([950]), annotations] })).message,
    ).toContain('does not say when it began');
  });

  test('an interrupted file whose record times are lost or go back is refused with the byte', () => {
    const broken = { ...stamps(0, 1, 2), stored: Array(24).fill(0) };
    expect(
      problem(edfOf({ records: 3, reserved: 'EDF+D', signals: [saturation([950, 951, 952]), broken] })).message,
    ).toContain('does not say when it began');
    expect(
      problem(edfOf({ records: 3, reserved: 'EDF+D', signals: [saturation([950, 951, 952]), stamps(5, 4, 6)] })).byte,
    ).toBe(256 * 3 + 18 + 2);
    expect(problem(edfOf({ records: 3, reserved: 'EDF+D', signals: [saturation([950, 951, 952])] })).message).toContain(
      'EDF+D',
    );
  });
});

describe('damage', () => {
  const good = edfOfNight(flat(95, 50));

  test.each([
    ['not EDF', altered(good, 0, 'Time,SpO'), 0, 'begins with "Time,SpO"'],
    ['24-bit', altered(good, 0, '\u00ffBIOSEMI'), 0, 'BDF'],
    ['no number of signals', altered(good, 252, 'many'), 252, 'number of signals'],
    ['too many signals', altered(good, 252, '9999'), 252, '9999 signals'],
    ['a header length that does not fit', altered(good, 184, '512     '), 184, '512 bytes'],
    ['a record length of nothing', altered(good, 244, '0       '), 244, '0 s'],
    ['a record count that is a word', altered(good, 236, 'fifty   '), 236, 'fifty'],
    [
      'samples that are no number',
      altered(good, 256 + 216 * 2, 'x       '),
      256 + 216 * 2,
      'samples in a record of "SpO2"',
    ],
    ['a scale of nothing', altered(good, 256 + 128 * 2, '0       '), 256 + 104 * 2, 'cannot be scaled'],
    ['half a header', good.slice(0, 100), 100, 'ends after 100 bytes'],
    ['a cut signal header', good.slice(0, 400), 400, 'ends inside its header'],
    ['a header without records', good.slice(0, 768), 768, 'nothing to read'],
    ['nothing', new ArrayBuffer(0), 0, 'ends after 0 bytes'],
  ])('%s is explained with its byte', (_, file, byte, words) => {
    const found = problem(file);
    expect(found.byte).toBe(byte);
    expect(found.message).toContain(words);
  });

  test('a file cut off in the night is read as far as it goes, and says so', () => {
    const night = read(good.slice(0, 768 + 4 * 20 + 3));
    expect(night.spo2.length).toBe(20);
    expect(night.notes.join(' ')).toContain('20 of 50 records');
  });

  test('a recorder that never closed its file gives what is there', () => {
    const night = read(edfOfNight(flat(95, 50), { promised: -1 }));
    expect(night.spo2.length).toBe(50);
    expect(night.notes.join(' ')).toContain('so the records were counted');
  });

  test('a date that is none leaves the start unknown', () => {
    const night = read(edfOfNight(flat(95, 5), { date: '31.02.26' }));
    expect(night).not.toHaveProperty('startedAt');
    expect(night.notes.join(' ')).toContain('start could not be read');
  });

  test('a thousand damaged files: always an answer or an explanation, never a throw, never a changed file', () => {
    const dice = randomFrom(19920525);
    let explained = 0;
    for (let trial = 0; trial < 1000; trial += 1) {
      const file = edfOfNight([...ramp(96, 86, 40), ...flat(95, 20)]);
      const bytes = new Uint8Array(file);
      for (let change = 0; change <= dice() * 6; change += 1) {
        // Mostly in the header, where a byte can do most harm.
        const at = Math.floor(dice() * (dice() < 0.8 ? 768 : bytes.length));
        bytes[at] = dice() < 0.5 ? Math.floor(dice() * 256) : 48 + Math.floor(dice() * 10);
      }
      const cut = dice() < 0.2 ? file.slice(0, Math.floor(dice() * file.byteLength)) : file;
      const before = new Uint8Array(cut.slice(0));
      const found = readEdf(cut);
      expect(new Uint8Array(cut)).toEqual(before);
      if (!found.ok) {
        explained += 1;
        for (const one of found.problems) expect(one.message.length).toBeGreaterThan(10);
        continue;
      }
      expect(found.recording.seconds.length).toBe(found.recording.spo2.length);
      expect(() => summarise(found.recording)).not.toThrow();
    }
    expect(explained).toBeGreaterThan(50);
    expect(explained).toBeLessThan(950);
  });
});
