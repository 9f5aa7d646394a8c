/** A night's figures as readings of the visit sheet, in the measures that published criteria are about, and the others that the page prints. */
import type { Reading } from '../domain/visit.ts';
import { limits } from './rules.ts';
import type { NightSummary } from './summary.ts';

/**
 * @param gas  what was breathed that night; undefined stays unknown, and unknown is not room air
 * @returns readings by measure. Values keep four decimals: a run of 4 min 59 s must not become 5.0 min
 */
export function readingsOf(summary: NightSummary, gas: Reading['gas']): Record<string, Reading> {
  const flags = summary.usableSeconds < limits.fewHours * 3600 ? ['short-recording'] : undefined;
  const about = (value: number, unit: Reading['unit']): Reading => ({
    value: Number(value.toFixed(4)),
    unit,
    method: 'overnight recording',
    ...(gas === undefined ? {} : { gas }),
    ...(flags === undefined ? {} : { flags }),
  });
  const { flags: _, gas: __, ...hours } = about(summary.usableSeconds / 3600, 'h');
  return {
    'recording-hours': hours,
    'nocturnal-spo2-mean': about(summary.meanSpo2, '%'),
    'nocturnal-spo2-lowest': about(summary.lowestSpo2, '%'),
    'nocturnal-time-spo2-below-90-percent': about(summary.below90Percent, '%'),
    'nocturnal-minutes-spo2-at-or-below-88': about(summary.atOrBelow88Seconds / 60, 'min'),
    'nocturnal-consecutive-minutes-spo2-at-or-below-88': about(summary.longestAtOrBelow88Seconds / 60, 'min'),
    'nocturnal-drops-3-per-hour': about(summary.drops3PerHour, '/h'),
    'nocturnal-drops-4-per-hour': about(summary.drops4PerHour, '/h'),
  };
}
