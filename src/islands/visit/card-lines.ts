/** What stands on the emergency card: today's answer where it was asked, else the last one with its date, else that it is not known. */
import type { Decisions } from '../../../calculators/domain/decision.ts';
import { type SupportStatus, supportStatusWords, type Visit, wishWords } from '../../../calculators/domain/visit.ts';
import { type Entries, ventilations } from './entries.ts';
import type { LastForCard, Recorded } from './last-time.ts';

export interface CardLines {
  supports: string[];
  timeOff: string[];
  flat: string;
  communicates: string;
  wishes: string[];
}

type Say = (iso: string) => string;

const notToday = (say: Say, date: string, words: string): string => `Not asked today; on ${say(date)}: ${words}`;
/** One line for each day on which something was asked last. */
const notTodayLines = (say: Say, recorded: readonly Recorded[]): string[] =>
  [...new Set(recorded.map(({ date }) => date))].map((day) =>
    notToday(
      say,
      day,
      recorded
        .filter(({ date }) => date === day)
        .map(({ what }) => what)
        .join('; '),
    ),
  );
const carried = (say: Say, today: string, last: Recorded | undefined, unknown: string): string =>
  today !== '' ? today : last ? notToday(say, last.date, last.what) : unknown;

const flatWords = (breathless: boolean): string =>
  breathless ? 'breathless lying flat, or no longer lies flat' : 'not breathless lying flat';

/** @param say  how dates are written for this reader */
export function cardLines(
  visit: Visit,
  entries: Entries,
  decisions: Decisions,
  last: LastForCard,
  say: Say = (iso) => iso,
): CardLines {
  const today = visit.supports ?? {};
  const named = (id: string) => decisions[id]?.status?.label ?? decisions[id]?.title ?? id;
  /** answered today, and not in place */
  const withoutIt = (id: string) => today[id] !== undefined && today[id] !== 'in-place';
  return {
    supports: orElse(supportLines(), Object.keys(today).length > 0 ? 'none in place' : 'not recorded: ask'),
    timeOff: orElse(timeOffLines(), ventilations.every(withoutIt) ? 'no ventilator in place' : 'not recorded: ask'),
    flat: flatLine(),
    communicates: carried(say, entries.answers.trim(), last.answers, 'not recorded: ask, and give time to answer'),
    wishes: wishLines(),
  };

  function supportLines(): string[] {
    const words = (id: string, status: SupportStatus, hours = '') =>
      `${named(id)}: ${supportStatusWords[status]}${status === 'in-place' && hours.trim() ? `, ${hours.trim()} h in 24` : ''}`;
    const now = Object.entries(today)
      .filter(([, status]) => status !== 'none')
      .map(([id, status]) => words(id, status, entries.supportTimes[id]?.hours));
    const then = Object.entries(last.supports)
      .filter(([id, { what }]) => today[id] === undefined && what.status !== 'none')
      .map(([id, { date, what }]) => ({ date, what: words(id, what.status, what.hours) }));
    return [...now, ...notTodayLines(say, then)];
  }

  function timeOffLines(): string[] {
    const lines: string[] = [];
    const then: Recorded[] = [];
    for (const id of ventilations.filter((id) => !withoutIt(id))) {
      const told = today[id] === 'in-place' && entries.supportTimes[id]?.timeOff?.trim();
      const earlier = last.timeOff[id];
      if (told) lines.push(`${named(id)}: ${told}`);
      else if (earlier) then.push({ date: earlier.date, what: `${named(id)}: ${earlier.what}` });
    }
    return [...lines, ...notTodayLines(say, then)];
  }

  function flatLine(): string {
    const sign = visit.signs.orthopnoea;
    const then = last.breathlessFlat && { date: last.breathlessFlat.date, what: flatWords(last.breathlessFlat.what) };
    return carried(say, sign ? flatWords(sign === 'present') : '', then, 'not recorded: ask before lying them flat');
  }

  function wishLines(): string[] {
    const told = entries.wishes.filter((wish) => wish !== 'not-discussed').map((wish) => wishWords[wish]);
    if (told.length > 0) return [told.join('; ')];
    const undiscussed = entries.wishes.includes('not-discussed');
    if (!last.wishes) return [undiscussed ? 'Not discussed yet: ask' : 'not recorded: ask'];
    return undiscussed
      ? [`Not talked about today; on ${say(last.wishes.date)}: ${last.wishes.what}`]
      : [notToday(say, last.wishes.date, last.wishes.what)];
  }
}

const orElse = (lines: string[], words: string): string[] => (lines.length > 0 ? lines : [words]);
