/**
 * From a file's bytes to a night's figures: the kind of file, its text encoding, and the calculation. Runs in the
 * worker.
 */
import { type CsvOptions, readCsv } from '../../calculators/night-oximetry/read-csv.ts';
import { readEdf } from '../../calculators/night-oximetry/read-edf.ts';
import { summarise } from '../../calculators/night-oximetry/summary.ts';
import { drawable } from '../../calculators/night-oximetry/trace.ts';
import type { Answers, FromWorker } from './messages.ts';

/** columns of the drawing: two for each point of the narrowest screen */
const columns = 720;

export function nightOf(bytes: ArrayBuffer, answers: Answers, onProgress: (share: number) => void): FromWorker {
  const read = isEdf(bytes)
    ? readEdf(bytes, { spo2Signal: numberOf(answers.spo2Signal), onProgress })
    : readCsv(textOf(bytes), {
        dateOrder: answers.dateOrder as CsvOptions['dateOrder'],
        timeColumn: numberOf(answers.timeColumn),
        interval: numberOf(answers.interval),
        spo2Column: numberOf(answers.spo2Column),
        onProgress,
      });
  if (!read.ok) return { kind: 'problems', problems: read.problems };
  const found = summarise(read.recording);
  if (!found.ok) return { kind: 'problems', problems: [{ message: found.message }] };
  const { rows, ...summary } = found.summary;
  return {
    kind: 'night',
    night: {
      summary,
      trace: drawable(read.recording, rows, columns),
      startedAt: read.recording.startedAt,
      understood: read.understood,
      notes: read.notes,
    },
  };
}

/** EDF begins with a 0 filled up with spaces, its 24-bit sister with byte 255 and a name. */
function isEdf(bytes: ArrayBuffer): boolean {
  const start = String.fromCharCode(...new Uint8Array(bytes.slice(0, 8)));
  return start === '0       ' || start === '\u00ffBIOSEMI';
}

/** Recorders write UTF-8, UTF-16 with its mark, or the old Western letters. */
function textOf(bytes: ArrayBuffer): string {
  const [first, second] = new Uint8Array(bytes.slice(0, 2));
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

const numberOf = (answer: string | undefined): number | undefined =>
  answer === undefined ? undefined : Number(answer);
