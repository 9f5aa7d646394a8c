/** Nights made by hand, whose figures can be worked out on paper; and the two kinds of file that carry them. */

/** One value a second. */
export type Night = number[];

export const flat = (value: number, seconds: number): Night => Array(seconds).fill(value);

/** From one value to another in whole steps of equal length; the first value is not repeated. */
export const ramp = (from: number, to: number, seconds: number): Night =>
  Array.from({ length: seconds }, (_, second) => from + Math.round(((to - from) * (second + 1)) / seconds));

/** '22:41:05' */
export const clockOf = (seconds: number): string =>
  [Math.floor(seconds / 3600) % 24, Math.floor(seconds / 60) % 60, seconds % 60]
    .map((part) => String(part).padStart(2, '0'))
    .join(':');

/** A plain table: time, SpO2, pulse, one row a second from ten in the evening. */
export const csvOf = (
  night: Night,
  { mark: separator = ',', pulse = 62, from = 22 * 3600, heading = true } = {},
): string =>
  [
    ...(heading ? [['Time', 'SpO2', 'Pulse'].join(separator)] : []),
    ...night.map((value, second) => [clockOf(from + second), Number.isNaN(value) ? '' : value, pulse].join(separator)),
  ].join('\n');

export interface EdfSignal {
  label: string;
  dimension?: string;
  physical: [number, number];
  digital: [number, number];
  /** samples in a record */
  samples: number;
  /** stored numbers, all records one after the other */
  stored: number[];
}

interface EdfFile {
  signals: EdfSignal[];
  records: number;
  secondsEach?: number;
  date?: string;
  time?: string;
  reserved?: string;
  /** what the header says in place of the true number of records */
  promised?: number;
}

/** Byte by byte as the format's table says. */
export function edfOf({
  signals,
  records,
  secondsEach = 1,
  date = '20.11.26',
  time = '22.00.00',
  reserved = '',
  promised = records,
}: EdfFile): ArrayBuffer {
  const field = (text: string | number, width: number) => String(text).padEnd(width).slice(0, width);
  const all = (width: number, of: (signal: EdfSignal) => string | number) =>
    signals.map((signal) => field(of(signal), width)).join('');
  const header = [
    field('0', 8),
    field('X X X X', 80),
    field('Startdate X X X X', 80),
    field(date, 8),
    field(time, 8),
    field(256 + 256 * signals.length, 8),
    field(reserved, 44),
    field(promised, 8),
    field(secondsEach, 8),
    field(signals.length, 4),
    all(16, (signal) => signal.label),
    all(80, () => ''),
    all(8, (signal) => signal.dimension ?? ''),
    all(8, (signal) => signal.physical[0]),
    all(8, (signal) => signal.physical[1]),
    all(8, (signal) => signal.digital[0]),
    all(8, (signal) => signal.digital[1]),
    all(80, () => ''),
    all(8, (signal) => signal.samples),
    all(32, () => ''),
  ].join('');
  const perRecord = signals.reduce((total, signal) => total + signal.samples, 0);
  const buffer = new ArrayBuffer(header.length + records * perRecord * 2);
  const bytes = new Uint8Array(buffer);
  for (let place = 0; place < header.length; place += 1) bytes[place] = header.charCodeAt(place);
  const view = new DataView(buffer);
  let at = header.length;
  for (let record = 0; record < records; record += 1)
    for (const signal of signals)
      for (let sample = 0; sample < signal.samples; sample += 1) {
        view.setInt16(at, signal.stored[record * signal.samples + sample] ?? 0, true);
        at += 2;
      }
  return buffer;
}

/** The same night as EDF: one record a second, saturation stored in tenths, pulse in whole beats. */
export const edfOfNight = (night: Night, more: Partial<EdfFile> = {}): ArrayBuffer =>
  edfOf({
    records: night.length,
    signals: [
      {
        label: 'SpO2',
        dimension: '%',
        physical: [0, 102.3],
        digital: [0, 1023],
        samples: 1,
        stored: night.map((value) => (Number.isNaN(value) ? 0 : Math.round(value * 10))),
      },
      {
        label: 'Pulse',
        dimension: 'bpm',
        physical: [0, 250],
        digital: [0, 250],
        samples: 1,
        stored: night.map(() => 62),
      },
    ],
    ...more,
  });
