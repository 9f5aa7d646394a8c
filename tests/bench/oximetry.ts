/**
 * How long a night takes to read and summarise: ten hours at one value a second, and twelve at four a second.
 *
 * Wall time and the thread's own processor time, which other work on the machine does not stretch; of the first run, before
 * the code is compiled, and of the best and the middle one after. The budget is 100 ms for ten hours at 1 Hz.
 */
import { readCsv } from '../../calculators/night-oximetry/read-csv.ts';
import { readEdf } from '../../calculators/night-oximetry/read-edf.ts';
import type { ReadRecording } from '../../calculators/night-oximetry/recording.ts';
import { summarise } from '../../calculators/night-oximetry/summary.ts';
import { clockOf, edfOfNight } from '../calculators/night-oximetry/build.ts';

interface OximetryTime {
  what: string;
  rows: number;
  /** of the very first run, before the code is compiled */
  firstMs: number;
  bestMs: number;
  medianMs: number;
  firstCpuMs: number;
  medianCpuMs: number;
}

/** A night that falls and recovers a few hundred times, so that every part of the summary has work. */
const level = (second: number): number => 93 + Math.round(3 * Math.sin(second / 11) + 2 * Math.sin(second / 900));

const csv = (hours: number, perSecond: number): string => {
  const rows = ['Date;Time;SpO2;Pulse'];
  for (let at = 0; at < hours * 3600 * perSecond; at += 1) {
    const second = Math.floor(at / perSecond);
    rows.push(`${second < 7200 ? '20' : '21'}/11/2026;${clockOf(79_200 + second)};${level(second)};${60 + (at % 7)}`);
  }
  return rows.join('\n');
};

function timeOximetry(runs = 9): OximetryTime[] {
  const cases: [string, number, () => ReadRecording][] = [];
  for (const [hours, perSecond] of [
    [10, 1],
    [12, 4],
  ] as const) {
    const text = csv(hours, perSecond);
    cases.push([`${hours} h at ${perSecond} Hz, CSV`, hours * 3600 * perSecond, () => readCsv(text)]);
  }
  const file = edfOfNight(Array.from({ length: 36_000 }, (_, second) => level(second)));
  cases.push(['10 h at 1 Hz, EDF', 36_000, () => readEdf(file)]);
  return cases.map(([what, rows, read]) => {
    const times: number[] = [];
    const cpu: number[] = [];
    for (let run = 0; run < runs; run += 1) {
      const before = process.threadCpuUsage();
      const start = performance.now();
      const found = read();
      if (!found.ok || !summarise(found.recording).ok) throw new Error(`${what} was not read`);
      times.push(performance.now() - start);
      const used = process.threadCpuUsage(before);
      cpu.push((used.user + used.system) / 1000);
    }
    const middle = (list: readonly number[]) => [...list].sort((a, b) => a - b)[Math.floor(runs / 2)] ?? Number.NaN;
    return {
      what,
      rows,
      firstMs: times[0] ?? Number.NaN,
      bestMs: Math.min(...times),
      medianMs: middle(times),
      firstCpuMs: cpu[0] ?? Number.NaN,
      medianCpuMs: middle(cpu),
    };
  });
}

if (import.meta.main) console.table(timeOximetry());
