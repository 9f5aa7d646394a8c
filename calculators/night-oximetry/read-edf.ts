/**
 * Reads the saturation and the pulse from a European Data Format file (EDF, and EDF+ continuous or interrupted).
 *
 *   value = physical minimum + (stored - digital minimum) x (physical maximum - physical minimum)
 *                                                         / (digital maximum - digital minimum)
 *
 * The file is a header in plain letters (256 bytes, then 256 for each signal) and records of 16-bit whole numbers, low
 * byte first. Stored steps are coarse: a recorder's 88 can come back as 88.0005, which is no longer 'at or below 88'. A
 * value nearer to a whole per cent than half a step is therefore taken as that whole per cent.
 *
 * Of EDF+ only the time of each record is used; annotations are not read. Signals are found by their label; which ones
 * were taken is reported. The person's name and number in the header are never read.
 *
 * @param buffer   the file's bytes
 * @param options  the signal to take as SpO2, counted from 0, where the labels leave it open
 * @returns the recording; or problems with the byte and the reason
 * @source  Kemp et al. 1992 (header table read in two copies) and the EDF+ specification of 2003 (edfplus.info): header
 *          fields and 'EDF+C' / 'EDF+D' read; the form of the time stamp in a record (a plus or minus sign, seconds,
 *          bytes 20 20 0) from memory
 */

import { isDay, isoDay } from '../calendar.ts';
import { clock, type FileProblem, longestHours, type ReadRecording, type Recording, unread } from './recording.ts';

export interface EdfOptions {
  spo2Signal?: number | undefined;
  onProgress?: ((share: number) => void) | undefined;
}

interface Signal {
  place: number;
  label: string;
  dimension: string;
  physicalLow: number;
  physicalHigh: number;
  digitalLow: number;
  digitalHigh: number;
  /** samples in a record */
  samples: number;
  /** bytes from the start of a record */
  offset: number;
}

interface Header {
  startedAt?: string;
  headerBytes: number;
  recordBytes: number;
  records: number;
  secondsEach: number;
  interrupted: boolean;
  signals: Signal[];
  notes: string[];
}

/** above this a night is thinned out: saturation does not change so fast */
const mostSamples = 2_000_000;
const labels = {
  spo2: /sp\s*o\s*2|sa\s*o\s*2|osat|o2\s*sat|satur/i,
  notSpo2: /status|quality|pleth|wave|event|signal/i,
  pulse: /pulse|puls\b|\bpr\b|heart|\bhr\b/i,
  notPulse: /pleth|wave|ampl|transit|\bptt\b|width|quality|status/i,
};

export function readEdf(buffer: ArrayBuffer, { spo2Signal, onProgress }: EdfOptions = {}): ReadRecording {
  const bytes = new Uint8Array(buffer);
  const header = readHeader(bytes);
  if ('message' in header) return unread(header);
  const saturation = findSaturation(header.signals, spo2Signal);
  if ('message' in saturation) return unread(saturation);
  const pulse = header.signals.find((signal) => labels.pulse.test(signal.label) && !labels.notPulse.test(signal.label));
  const begins = recordBegins(bytes, header);
  if ('message' in begins) return unread(begins);
  const { records, secondsEach } = header;
  const keepEach = Math.max(1, Math.ceil((records * saturation.samples) / mostSamples));
  const recording = readRecords(new DataView(buffer), header, begins, { saturation, pulse, keepEach }, onProgress);
  if (header.startedAt !== undefined) recording.startedAt = header.startedAt;
  return {
    ok: true,
    recording,
    understood: [
      `European Data Format${header.interrupted ? ', interrupted' : ''}: ${records} records of ${secondsEach} s`,
      `SpO2: signal "${saturation.label}", ${Number((saturation.samples / secondsEach).toPrecision(3))} a second`,
      pulse ? `Pulse: signal "${pulse.label}"` : 'Pulse: no such signal',
    ],
    notes: [
      ...header.notes,
      ...(keepEach > 1
        ? [`Only each ${keepEach}th saturation value is used: the file has far more values than saturation can change`]
        : []),
    ],
  };
}

/** Seconds from the first record to each; a file that was interrupted says in each record when it began. */
function recordBegins(bytes: Uint8Array, header: Header): Float64Array | FileProblem {
  const { records, secondsEach, recordBytes, headerBytes, interrupted } = header;
  const annotations = header.signals.find(isAnnotation);
  if (interrupted && !annotations)
    return { byte: 192, message: 'The file says that it was interrupted (EDF+D), and holds no record times' };
  const begins = new Float64Array(records);
  let zero = 0;
  for (let record = 0; record < records; record += 1) {
    const start = headerBytes + record * recordBytes;
    begins[record] = record * secondsEach;
    if (interrupted && annotations) {
      const byte = start + annotations.offset;
      const time = recordTime(bytes, byte, annotations.samples * 2);
      if (time === undefined) return { byte, message: `Record ${record + 1} does not say when it began` };
      if (record === 0) zero = time;
      begins[record] = time - zero;
      if (record > 0 && time - zero < (begins[record - 1] ?? 0))
        return { byte, message: `Record ${record + 1} begins before the one before it` };
    }
    if ((begins[record] ?? 0) + secondsEach > longestHours * 3600)
      return { byte: start, message: `The records span more than ${longestHours} hours, which is not one night` };
  }
  return begins;
}

function readRecords(
  view: DataView,
  { records, secondsEach, recordBytes, headerBytes }: Header,
  begins: Float64Array,
  { saturation, pulse, keepEach }: { saturation: Signal; pulse: Signal | undefined; keepEach: number },
  onProgress: EdfOptions['onProgress'],
): Recording {
  const rows = records * Math.ceil(saturation.samples / keepEach);
  const seconds = new Float64Array(rows);
  const spo2 = new Float32Array(rows);
  const beats = pulse ? new Float32Array(rows) : undefined;
  const scaled = scalerOf(saturation);
  const scaledPulse = pulse ? scalerOf(pulse) : undefined;
  let filled = 0;
  for (let record = 0; record < records; record += 1) {
    const start = headerBytes + record * recordBytes;
    const began = begins[record] ?? 0;
    for (let sample = 0; sample < saturation.samples; sample += keepEach) {
      seconds[filled] = began + (sample * secondsEach) / saturation.samples;
      spo2[filled] = scaled(view.getInt16(start + saturation.offset + sample * 2, true));
      if (beats && pulse && scaledPulse) {
        const same = Math.floor((sample * pulse.samples) / saturation.samples);
        beats[filled] = scaledPulse(view.getInt16(start + pulse.offset + same * 2, true));
      }
      filled += 1;
    }
    if (record % 2000 === 1999) onProgress?.(record / records);
  }
  return { seconds, spo2, ...(beats ? { pulse: beats } : {}) };
}

const isAnnotation = ({ label }: Signal): boolean => /^EDF Annotations$/i.test(label);

function findSaturation(signals: readonly Signal[], chosen: number | undefined): Signal | FileProblem {
  const usable = signals.filter((signal) => !isAnnotation(signal));
  const asked = usable.find(({ place }) => place === chosen);
  if (asked) return asked;
  const named = usable.filter(({ label }) => labels.spo2.test(label) && !labels.notSpo2.test(label));
  const inPercent = named.filter(({ dimension }) => dimension === '%');
  const [first, second] = inPercent.length > 0 ? inPercent : named;
  if (first && !second) return first;
  const choices = (first ? named : usable).map(({ place, label, dimension }) => ({
    value: String(place),
    label: `${label || `signal ${place + 1}`}${dimension ? `, ${dimension}` : ''}`,
  }));
  return {
    byte: 256,
    message: first
      ? `More than one signal could be SpO2: ${named.map(({ label }) => `"${label}"`).join(', ')}`
      : `No signal is labelled as SpO2. Signals here: ${usable.map(({ label }) => `"${label}"`).join(', ') || 'none'}`,
    ...(choices.length > 0 ? { question: { sets: 'spo2Signal', choices } } : {}),
  };
}

/** Stored number to per cent; NaN outside the digital range that the header promises. */
function scalerOf({ physicalLow, physicalHigh, digitalLow, digitalHigh }: Signal): (stored: number) => number {
  const gain = (physicalHigh - physicalLow) / (digitalHigh - digitalLow);
  const half = Math.min(Math.abs(gain) / 2, 0.05) + 1e-9;
  return (stored) => {
    if (stored < digitalLow || stored > digitalHigh) return Number.NaN;
    const value = physicalLow + (stored - digitalLow) * gain;
    const whole = Math.round(value);
    return Math.abs(value - whole) <= half ? whole : value;
  };
}

// --- the header ------------------------------------------------------------------------------------------------------

function readHeader(bytes: Uint8Array): Header | FileProblem {
  const sizes = readSizes(bytes);
  if ('message' in sizes) return sizes;
  const { count, headerBytes, secondsEach, promised } = sizes;
  const signals: Signal[] = [];
  let recordBytes = 0;
  for (let place = 0; place < count; place += 1) {
    const signal = readSignal(bytes, place, count, recordBytes);
    if ('message' in signal) return signal;
    signals.push(signal);
    recordBytes += signal.samples * 2;
  }
  const counted = countRecords(bytes.length, headerBytes, recordBytes, promised);
  if ('message' in counted) return counted;
  const interrupted = textOf(bytes, 192, 44).startsWith('EDF+D');
  const startedAt = startOf(bytes);
  const noStart = 'The date and time of the start could not be read; times are counted from the start';
  return {
    headerBytes,
    recordBytes,
    records: counted.records,
    secondsEach,
    interrupted,
    signals,
    notes: startedAt === undefined ? [...counted.notes, noStart] : counted.notes,
    ...(startedAt === undefined ? {} : { startedAt }),
  };
}

interface Sizes {
  /** how many signals */
  count: number;
  headerBytes: number;
  secondsEach: number;
  /** records by the header's own count; -1 where the recorder did not write it */
  promised: number;
}

/** The numbers at the front of the header, which say how long everything else is. */
function readSizes(bytes: Uint8Array): Sizes | FileProblem {
  const notEdf = whyNotEdf(bytes);
  if (notEdf) return notEdf;
  const count = numberAt(bytes, 252, 4, 'number of signals');
  if (typeof count !== 'number') return count;
  if (!Number.isInteger(count) || count < 1 || count > 512)
    return { byte: 252, message: `The header names ${count} signals; from 1 to 512 were expected` };
  const headerBytes = 256 + count * 256;
  if (bytes.length < headerBytes)
    return {
      byte: bytes.length,
      message: `The file ends inside its header: ${headerBytes} bytes were expected, ${bytes.length} are there`,
    };
  const written = numberAt(bytes, 184, 8, 'length of the header');
  if (typeof written !== 'number') return written;
  if (written !== headerBytes)
    return {
      byte: 184,
      message: `The header says that it is ${written} bytes long, but with ${count} signals it must be ${headerBytes}`,
    };
  const secondsEach = numberAt(bytes, 244, 8, 'length of a record');
  if (typeof secondsEach !== 'number') return secondsEach;
  if (!(secondsEach > 0) || secondsEach > 3600)
    return {
      byte: 244,
      message: `A record is said to last ${secondsEach} s; more than 0 and at most 3600 were expected`,
    };
  const promised = numberAt(bytes, 236, 8, 'number of records');
  return typeof promised === 'number' ? { count, headerBytes, secondsEach, promised } : promised;
}

function whyNotEdf(bytes: Uint8Array): FileProblem | undefined {
  if (bytes.length < 256)
    return { byte: bytes.length, message: `The file ends after ${bytes.length} bytes; an EDF header has 256 or more` };
  if (bytes[0] === 255)
    return { byte: 0, message: 'This is the 24-bit form (BDF), which this page cannot read. Export it as EDF' };
  const version = textOf(bytes, 0, 8);
  return version === '0'
    ? undefined
    : { byte: 0, message: `This is not an EDF file: it should begin with 0, but begins with "${printable(version)}"` };
}

/** How many records to read: no more than the header promises, and no more than are there. */
function countRecords(
  bytes: number,
  headerBytes: number,
  recordBytes: number,
  promised: number,
): { records: number; notes: string[] } | FileProblem {
  const there = Math.floor((bytes - headerBytes) / recordBytes);
  const over = bytes - headerBytes - there * recordBytes;
  if (promised !== -1 && (!Number.isInteger(promised) || promised < 1))
    return { byte: 236, message: `The header names ${promised} records; 1 or more were expected` };
  if (there < 1)
    return { byte: bytes, message: 'The file ends before its first record is complete: there is nothing to read' };
  if (promised === -1)
    return {
      records: there,
      notes: ['The recorder did not close the file, so the records were counted'],
    };
  const records = Math.min(promised, there);
  if (there < promised)
    return {
      records,
      notes: [
        `The file is cut off at byte ${bytes}: ${there} of ${promised} records are there, and only these are read`,
      ],
    };
  const left = bytes - headerBytes - promised * recordBytes;
  return {
    records,
    notes: there > promised || over > 0 ? [`${left} bytes after the last record were left out`] : [],
  };
}

function readSignal(bytes: Uint8Array, place: number, count: number, offset: number): Signal | FileProblem {
  /** the values of one field for all signals, one after another, then those of the next field */
  const at = (before: number, width: number) => 256 + before * count + place * width;
  const label = printable(textOf(bytes, at(0, 16), 16));
  const number = (before: number, what: string) => numberAt(bytes, at(before, 8), 8, `${what} of "${label}"`);
  const found = {
    physicalLow: number(104, 'physical minimum'),
    physicalHigh: number(112, 'physical maximum'),
    digitalLow: number(120, 'digital minimum'),
    digitalHigh: number(128, 'digital maximum'),
    samples: number(216, 'samples in a record'),
  };
  for (const one of Object.values(found)) if (typeof one !== 'number') return one;
  const { physicalLow, physicalHigh, digitalLow, digitalHigh, samples } = found as Record<keyof typeof found, number>;
  if (!Number.isInteger(samples) || samples < 1 || samples > 1_000_000)
    return {
      byte: at(216, 8),
      message: `"${label}" is said to have ${samples} samples in a record; a whole number from 1 was expected`,
    };
  if (!(digitalHigh > digitalLow) || physicalHigh === physicalLow)
    return {
      byte: at(104, 8),
      message: `"${label}" cannot be scaled: its smallest and largest values are the same or reversed`,
    };
  return {
    place,
    label,
    dimension: printable(textOf(bytes, at(96, 8), 8)),
    physicalLow,
    physicalHigh,
    digitalLow,
    digitalHigh,
    samples,
    offset,
  };
}

/** '20.11.26' and '22.41.00': years 85 to 99 are of the last century, as the format says. */
function startOf(bytes: Uint8Array): string | undefined {
  const date = /^(\d\d)\.(\d\d)\.(\d\d)$/.exec(textOf(bytes, 168, 8));
  const time = /^(\d\d)\.(\d\d)\.(\d\d)$/.exec(textOf(bytes, 176, 8));
  if (!date || !time) return undefined;
  const short = Number(date[3]);
  const day = { year: short >= 85 ? 1900 + short : 2000 + short, month: Number(date[2]), day: Number(date[1]) };
  const [hour, minute, second] = [Number(time[1]), Number(time[2]), Number(time[3])];
  if (!isDay(day) || hour > 23 || minute > 59 || second > 59) return undefined;
  return `${isoDay(day)}T${clock(hour * 3600 + minute * 60 + second)}`;
}

/** When a record of EDF+ began: '+30.5' at the head of its annotations, ended by byte 20. */
function recordTime(bytes: Uint8Array, start: number, length: number): number | undefined {
  let text = '';
  for (let place = start; place < Math.min(start + length, start + 24); place += 1) {
    const code = bytes[place] ?? 0;
    if (code === 20) return /^[+-]\d+(\.\d+)?$/.test(text) ? Number(text) : undefined;
    text += String.fromCharCode(code);
  }
  return undefined;
}

function numberAt(bytes: Uint8Array, start: number, width: number, what: string): number | FileProblem {
  const text = textOf(bytes, start, width);
  return /^[+-]?\d+(\.\d*)?([eE][+-]?\d+)?$/.test(text)
    ? Number(text)
    : { byte: start, message: `The ${what} should be a number, and is "${printable(text)}"` };
}

function textOf(bytes: Uint8Array, start: number, width: number): string {
  let text = '';
  for (let place = start; place < start + width; place += 1) text += String.fromCharCode(bytes[place] ?? 0);
  return text.replace(/[\0\s]+$/, '').trimStart();
}

const printable = (text: string): string =>
  [...text].map((one) => (one >= ' ' && one <= '~' ? one : '\u00b7')).join('');
