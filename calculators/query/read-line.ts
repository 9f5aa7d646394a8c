/**
 * A whole typed line: the calculations it names, and the rest of it read as a visit. What a calculation takes (the length of
 * a forearm, the gauge of a cylinder) is not read again as something else.
 */
import { isUnit } from '../quantity.ts';
import { type AskedReading, type AskedSum, type AskedVisit, emptyVisit, type Query } from './asked.ts';
import type { Calculations } from './calculation-words.ts';
import { askedOfReadings, readingsTaken, takeCalculations } from './calculations.ts';
import type { Reader } from './read-query.ts';

/** One reading is a visit with nothing else in it. */
export const visitOfReading = (asked: AskedReading): AskedVisit => ({
  ...emptyVisit,
  person: asked.person,
  readings: { [asked.measure]: asked.reading },
  parts: [asked],
  understood: asked.told,
  assumed: asked.assumed,
  notUnderstood: asked.unused,
});

/** A calculation that the reader of lines found by itself: an oxygen flow by a device, one of several meanings. */
export function visitOfSum({ calculator, inputs, person, assumed, unused }: AskedSum): AskedVisit {
  const entries = Object.entries(inputs);
  return {
    ...emptyVisit,
    person,
    assumed,
    notUnderstood: unused,
    taken: [
      {
        calculator,
        numbers: Object.fromEntries(
          entries.flatMap(([name, given]) =>
            typeof given === 'object' && given !== null && 'unit' in given && isUnit(given.unit)
              ? [[name, { value: given.value, unit: given.unit }] as const]
              : [],
          ),
        ),
        choices: Object.fromEntries(
          entries.flatMap(([name, given]) => (typeof given === 'string' ? [[name, given] as const] : [])),
        ),
        assumed: [],
      },
    ],
  };
}

/** Longer than any visit that is typed in one line; the screen says what was left out. */
export const longestLine = 300;

/** The line as far as it is read, up to its last whole word, and what is not read. */
export function cutLine(line: string): { read: string; left: string } {
  if (line.length <= longestLine) return { read: line, left: '' };
  const space = line.lastIndexOf(' ', longestLine);
  const end = space > 0 ? space : longestLine;
  return { read: line.slice(0, end), left: line.slice(end).trim() };
}

/** @param reader  reads a line without calculations */
export function readLine(whole: string, reader: Reader, words: Calculations): Query {
  const line = cutLine(whole).read;
  const typed = reader.plain(line);
  const query = withTaken(line, typed, reader, words);
  const asked = query?.kind === 'reading' ? visitOfReading(query) : query;
  if (asked?.kind !== 'visit') return query;
  const more = askedOfReadings(typed, asked, words);
  if (more.length === 0) return query;
  const asks = new Set(
    more.flatMap(({ calculator }) => words[calculator]?.weak.flatMap((one) => one.split(' ')) ?? []),
  );
  return {
    ...asked,
    taken: [...(asked.taken ?? []), ...more],
    notUnderstood: asked.notUnderstood.filter((word) => !asks.has(word)),
  };
}

function withTaken(line: string, typed: string, reader: Reader, words: Calculations): Query {
  const { taken, rest, peeked } = takeCalculations(typed, words);
  if (taken.length === 0) return reader.read(line);
  const whole = reader.readVisit(rest, line);
  const only =
    peeked.length === 0
      ? whole
      : reader.readVisit(
          peeked.reduce((text, piece) => text.replace(piece, ' ; '), rest),
          line,
        );
  // A cannula and its flow alone are a calculation. Where the line speaks of someone, or a piece is a reading, nothing is lost.
  const more = saysMore(only) || Object.keys(whole.readings).some((id) => id !== 'oxygen-flow');
  // 'lln fvc man 60 175': the words that ask for the calculation say that the numbers are an age and a height.
  const tellsWho = Object.keys(whole.person).length > Object.keys(only.person).length;
  // A number of the calculation can stand in the way of a name before it: what is read without it is not lost, nor asked.
  const visit = tellsWho
    ? whole
    : more
      ? {
          ...whole,
          readings: { ...only.readings, ...whole.readings },
          asks: only.asks.length < whole.asks.length ? only.asks : whole.asks,
        }
      : only;
  const known = (word: string) => peeked.some((piece) => ` ${piece} `.includes(` ${word} `));
  return {
    ...visit,
    // 'now 71 kg' is the weight of today, whatever other weight the line holds.
    readings: { ...visit.readings, ...readingsTaken(taken, words) },
    taken,
    notUnderstood: visit.notUnderstood.filter((word) => !known(word)),
  };
}

const saysMore = ({ person, readings, signs, supports }: AskedVisit): boolean =>
  person.disease !== undefined || [readings, signs, supports].some((some) => Object.keys(some).length > 0);
