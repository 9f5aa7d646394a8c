/** What was found last time, in a few quiet words beside each field. */
import type { Measures } from '../../../calculators/criteria/measure.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import { supportStatusWords } from '../../../calculators/criteria/visit.ts';
import { units } from '../../../calculators/quantity.ts';

export interface LastTime {
  readings: Readonly<Record<string, string>>;
  signs: Readonly<Record<string, string>>;
  supports: Readonly<Record<string, string>>;
  /** the visit before this one, whole */
  visit?: KeptVisit | undefined;
}

const gasWords = { air: 'room air', oxygen: 'on oxygen', ventilation: 'on a ventilator' } as const;
const postureWords = { upright: 'sitting', supine: 'lying flat' } as const;

/** @param before  earlier visits, oldest first; the last one that has an answer is told, with its date */
export function lastTime(before: readonly KeptVisit[], measures: Measures): LastTime {
  const readings: Record<string, string> = {};
  const signs: Record<string, string> = {};
  const supports: Record<string, string> = {};
  for (const visit of before) {
    for (const [id, { text, unit, gas, posture, method, flags = [] }] of Object.entries(visit.readings)) {
      const measure = measures[id];
      const labels = measure?.kind === 'number' ? measure.flags.filter((flag) => flags.includes(flag.id)) : [];
      const how = [
        gas && gasWords[gas],
        posture && postureWords[posture],
        method,
        ...labels.map(({ label }) => label.toLowerCase()),
      ].filter(Boolean);
      readings[id] = `${text}\u00a0${units[unit].symbol}${how.length > 0 ? ` (${how.join(', ')})` : ''}, ${visit.date}`;
    }
    for (const [id, reason] of Object.entries(visit.notDone)) readings[id] ??= `not done (${reason}), ${visit.date}`;
    for (const [id, sign] of Object.entries(visit.signs))
      signs[id] = `${sign === 'present' ? 'yes' : 'no'}, ${visit.date}`;
    for (const [id, { status, hours, timeOff }] of Object.entries(visit.supports))
      supports[id] = [
        supportStatusWords[status],
        hours && `${hours} h in 24`,
        timeOff && `off it at most ${timeOff}`,
        visit.date,
      ]
        .filter(Boolean)
        .join(', ');
  }
  return { readings, signs, supports, visit: before.at(-1) };
}
