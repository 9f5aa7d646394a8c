/** What was found last time, in a few quiet words beside each field. */
import type { Measures } from '../../../calculators/domain/measure.ts';
import { supportStatusWords, wishWords } from '../../../calculators/domain/visit.ts';
import { units } from '../../../calculators/quantity.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';

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

/** Something that was recorded, and when. */
export interface Recorded<T = string> {
  date: string;
  what: T;
}

/** What the emergency card carries on when it was not asked today: each from the last visit that recorded it. */
export interface LastForCard {
  supports: Readonly<Record<string, Recorded<KeptVisit['supports'][string]>>>;
  /** by support that is in place */
  timeOff: Readonly<Record<string, Recorded>>;
  breathlessFlat?: Recorded<boolean> | undefined;
  answers?: Recorded | undefined;
  /** wishes that were told; 'not talked about yet' does not hide an older wish */
  wishes?: Recorded | undefined;
  /** the last card that something was written on */
  card?: Recorded<NonNullable<KeptVisit['card']>> | undefined;
}

/** @param before  earlier visits, oldest first */
export function lastForCard(before: readonly KeptVisit[]): LastForCard {
  const supports: Record<string, LastForCard['supports'][string]> = {};
  const timeOff: Record<string, Recorded> = {};
  const last: { -readonly [key in keyof LastForCard]?: LastForCard[key] } = {};
  for (const { date, ...visit } of before) {
    for (const [id, support] of Object.entries(visit.supports)) {
      supports[id] = { date, what: support };
      if (support.status !== 'in-place') delete timeOff[id];
      else if (support.timeOff) timeOff[id] = { date, what: support.timeOff };
    }
    const { orthopnoea } = visit.signs;
    if (orthopnoea) last.breathlessFlat = { date, what: orthopnoea === 'present' };
    if (visit.answers.trim() !== '') last.answers = { date, what: visit.answers };
    const told = visit.wishes.filter((wish) => wish !== 'not-discussed');
    if (told.length > 0) last.wishes = { date, what: told.map((wish) => wishWords[wish]).join('; ') };
    if (visit.card && Object.values(visit.card).some((text) => text.trim() !== ''))
      last.card = { date, what: visit.card };
  }
  return { ...last, supports, timeOff };
}
