/** Times and figures of a night in words. */
import { clock } from '../../../calculators/night-oximetry/recording.ts';
import { showNumber } from '../../../calculators/quantity.ts';

/** '4 min 59 s': never rounded up to a whole minute, since a criterion can ask for minutes */
export function duration(seconds: number): string {
  const whole = Math.floor(seconds + 1e-6);
  const parts = [
    [Math.floor(whole / 3600), 'h'],
    [Math.floor(whole / 60) % 60, 'min'],
    [whole % 60, 's'],
  ] as const;
  const words = parts.filter(([count]) => count > 0).map(([count, unit]) => `${count}\u00a0${unit}`);
  return words.length > 0 ? words.join(' ') : seconds > 0 ? `${showNumber(seconds, 1)}\u00a0s` : '0\u00a0s';
}

export const percent = (value: number, decimals = 1): string => `${showNumber(value, decimals)}\u00a0%`;

/** Wall clock where the file gives one, time from the start where not. */
export function momentWords(startedAt: string | undefined, seconds: number): string {
  const start = /(\d{2}):(\d{2}):(\d{2})$/.exec(startedAt ?? '');
  if (!start) return `${clock(seconds).slice(0, 5)} from the start`;
  const from = Number(start[1]) * 3600 + Number(start[2]) * 60 + Number(start[3]);
  return clock(from + seconds).slice(0, 5);
}
