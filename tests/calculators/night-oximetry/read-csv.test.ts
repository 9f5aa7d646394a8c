import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../../calculators/learning/random.ts';
import { type CsvOptions, longestLine, mostLines, readCsv } from '../../../calculators/night-oximetry/read-csv.ts';
import type { FileProblem } from '../../../calculators/night-oximetry/recording.ts';
import { summarise } from '../../../calculators/night-oximetry/summary.ts';
import { csvOf, flat } from './build.ts';

function read(text: string, options?: CsvOptions) {
  const found = readCsv(text, options);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return { ...found.recording, notes: found.notes, understood: found.understood };
}

function problem(text: string, options?: CsvOptions): FileProblem {
  const found = readCsv(text, options);
  if (found.ok) throw new Error('was read');
  return found.problems[0] as FileProblem;
}

const lines = (...rows: string[]) => rows.join('\n');
const rows = (from: number, count: number, of: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => of(from + at));

describe('columns', () => {
  test('time, saturation and pulse are found under their names in any order', () => {
    const night = read(lines('Pulse (bpm),SpO2 (%),Time', '61,96,22:00:00', '62,95,22:00:01', '63,94,22:00:02'));
    expect([...night.spo2]).toEqual([96, 95, 94]);
    expect([...(night.pulse ?? [])]).toEqual([61, 62, 63]);
    expect([...night.seconds]).toEqual([0, 1, 2]);
    expect(night.startedAt).toBe('22:00:00');
  });

  test.each([
    ['semicolons and decimal commas', lines('Zeit;S\u00e4ttigung;Puls', '22:00:00;96,5;61,0', '22:00:01;95,5;62,0')],
    ['tabs and decimal commas', lines('time\tSaO2\tHR', '22:00:00\t96,5\t61,0', '22:00:01\t95,5\t62,0')],
    ['commas with quotes', lines('"Time","SpO2, %","Pulse"', '"22:00:00","96,5","61"', '"22:00:01","95,5","62"')],
    ['commas and points', lines('Time,SpO2,Pulse', '22:00:00,96.5,61', '22:00:01,95.5,62')],
    ['bars and spaces', lines('Time | SpO2 | Pulse', '22:00:00 | 96.5 | 61', '22:00:01 | 95.5 | 62')],
    [
      'a comma at the end of each row and not of the headings',
      lines('Time,SpO2,Pulse', '22:00:00,96.5,61,', '22:00:01,95.5,62,'),
    ],
    ['a comma at the end of the headings only', lines('Time,SpO2,Pulse,', '22:00:00,96.5,61', '22:00:01,95.5,62')],
    ['signs after the number', lines('Time,SpO2,Pulse', '22:00:00,96.5 %,61 bpm', '22:00:01,95.5 %,62 bpm')],
    [
      'Windows ends of line and a mark at the front',
      `\ufeff${['Time,SpO2,Pulse', '22:00:00,96.5,61', '22:00:01,95.5,62'].join('\r\n')}\r\n`,
    ],
  ])('%s are read', (_, text) => {
    const night = read(text);
    expect([...night.spo2]).toEqual([96.5, 95.5]);
    expect([...(night.pulse ?? [])]).toEqual([61, 62]);
  });

  test('lines before the table are passed over', () => {
    const night = read(
      lines(
        'Overnight report',
        'Recorder: bedside, serial 4711',
        '',
        'Start;20.11.2026',
        '',
        'Time;SpO2;Pulse;Status',
        ...rows(0, 30, (at) => `22:00:${String(at).padStart(2, '0')};95;60;ok`),
      ),
    );
    expect(night.spo2.length).toBe(30);
    expect(night.understood.join(' ')).toContain('SpO2: SpO2');
  });

  test('without headings the saturation is told by its values, and the pulse too', () => {
    const night = read(
      lines(...rows(0, 20, (at) => `22:00:${String(at).padStart(2, '0')},${95 + (at % 3)},${104 + (at % 5)}`)),
    );
    expect(night.spo2[0]).toBe(95);
    expect(night.pulse?.[0]).toBe(104);
  });

  test('two columns that could both be the saturation are asked about, and the answer is taken', () => {
    const text = lines(
      ...rows(0, 20, (at) => `22:00:${String(at).padStart(2, '0')},${62 + (at % 3)},${95 - (at % 2)}`),
    );
    const { question } = problem(text);
    expect(question?.sets).toBe('spo2Column');
    expect(question?.choices).toHaveLength(3);
    expect(read(text, { spo2Column: 2 }).spo2[0]).toBe(95);
  });

  test('a table without a time says which columns it has', () => {
    const { message, line, question } = problem(lines('SpO2,Pulse', '96,61', '95,62', '94,60', '95,61'));
    expect(message).toContain('No time column found among "SpO2", "Pulse"');
    expect(line).toBe(2);
    expect(question?.sets).toBe('timeColumn');
  });

  describe('a table without a time', () => {
    const bare = (...above: string[]) => lines(...above, 'SpO2,Pulse', '96,61', '95,62', '94,60', '95,61');
    const asked = (text: string) => {
      const found = readCsv(text);
      if (found.ok) throw new Error('was read');
      return found.problems.find(({ question }) => question?.sets === 'interval');
    };

    test('asks how far apart the rows are, and the answer gives each row its time', () => {
      expect(asked(bare())?.question?.choices.map(({ value }) => value)).toEqual(['1', '2', '4', '5', '10']);
      const night = read(bare(), { interval: 4 });
      expect([...night.seconds]).toEqual([0, 4, 8, 12]);
      expect([...night.spo2]).toEqual([96, 95, 94, 95]);
      expect(night.startedAt).toBeUndefined();
      expect(night.understood).toContain('Time: no such column (a row every 4 s, as answered)');
    });

    test.each([
      ['Sample interval: 4 s', '4'],
      ['Sampling rate 0.25 Hz', '4'],
      ['Averaging (s): 16 seconds', '16'],
      ['Recorder 4711', '1'],
    ])('%s: what the file says itself is offered first and not taken unasked', (above, first) => {
      expect(asked(bare(above))?.question?.choices[0]?.value).toBe(first);
    });

    test('a row that cannot be read keeps its place in time', () => {
      const night = read(lines('SpO2,Pulse', '96,61', '95,62', 'damaged', '94,60', '95,61'), { interval: 2 });
      expect([...night.seconds]).toEqual([0, 2, 6, 8]);
    });

    test.each([0, -1, 3600, Number.NaN])('%d seconds is no answer', (interval) => {
      expect(problem(bare(), { interval }).question?.sets).toBe('timeColumn');
    });
  });

  test('shares such as 0.95 are not taken for per cent', () => {
    expect(problem(lines('Time,Value', '22:00:00,0.95', '22:00:01,0.96', '22:00:02,0.95')).message).toContain(
      '0.95 cannot be read',
    );
  });
});

describe('time', () => {
  const table = (...stamps: string[]) => lines('Time;SpO2', ...stamps.map((stamp) => `${stamp};95`));

  test.each([
    ['ISO', ['2026-11-20T23:59:59', '2026-11-21T00:00:00'], '2026-11-20T23:59:59'],
    ['ISO with a zone', ['2026-11-20 23:59:59+01:00', '2026-11-21 00:00:00+01:00'], '2026-11-20T23:59:59'],
    ['day first, as 20 cannot be a month', ['20/11/2026 23:59:59', '21/11/2026 00:00:00'], '2026-11-20T23:59:59'],
    [
      'month first, as 20 cannot be a month',
      ['11/20/2026 11:59:59 PM', '11/21/2026 12:00:00 AM'],
      '2026-11-20T23:59:59',
    ],
    ['dots and two digits of year', ['20.11.26 23:59:59', '21.11.26 00:00:00'], '2026-11-20T23:59:59'],
    ['a month in letters', ['20-Nov-2026 23:59:59', '21-Nov-2026 00:00:00'], '2026-11-20T23:59:59'],
    ['no date, past midnight', ['23:59:59', '00:00:00'], '23:59:59'],
    ['the last day of a leap February', ['2028-02-29 23:59:59', '2028-03-01 00:00:00'], '2028-02-29T23:59:59'],
  ])('%s', (_, stamps, startedAt) => {
    const night = read(table(...stamps));
    expect([...night.seconds]).toEqual([0, 1]);
    expect(night.startedAt).toBe(startedAt);
  });

  test('a date and a clock in columns of their own', () => {
    const night = read(
      lines('Date,Time,SpO2', '2026-11-20,23:59:58,95', '2026-11-20,23:59:59,95', '2026-11-21,00:00:03,94'),
    );
    expect([...night.seconds]).toEqual([0, 1, 5]);
    expect(night.startedAt).toBe('2026-11-20T23:59:58');
  });

  test('seconds and milliseconds from the start', () => {
    expect([...read(lines('Elapsed (s),SpO2', '0,95', '0.25,95', '0.5,95')).seconds]).toEqual([0, 0.25, 0.5]);
    expect([...read(lines('time (ms),SpO2', '0,95', '250,95', '500,95')).seconds]).toEqual([0, 0.25, 0.5]);
  });

  test('milliseconds under a heading that does not say so are refused, with the likely cause', () => {
    const found = problem(lines('time,SpO2', ...rows(0, 40, (at) => `${at * 5000},95`)));
    expect(found.message).toContain('Are the times in milliseconds?');
  });

  test('03/11 that could be March or November is asked about, naming both', () => {
    const text = table('03/11/2026 22:00:00', '03/11/2026 22:00:01');
    const { message, question, line } = problem(text);
    expect(message).toContain('3 November 2026 or 11 March 2026');
    expect(line).toBe(2);
    expect(question).toMatchObject({ sets: 'dateOrder', choices: [{ value: 'd/m/y' }, { value: 'm/d/y' }] });
    expect(read(text, { dateOrder: 'd/m/y' }).startedAt).toBe('2026-11-03T22:00:00');
    expect(read(text, { dateOrder: 'm/d/y' }).startedAt).toBe('2026-03-11T22:00:00');
  });

  test('a night from 03/11 to 04/11 answers by itself: the other way it would last a month', () => {
    const night = read(table('03/11/2026 23:59:59', '04/11/2026 00:00:00'));
    expect(night.startedAt).toBe('2026-11-03T23:59:59');
    expect(night.notes.join(' ')).toContain('day first');
    expect(read(table('11/03/2026 23:59:59', '11/04/2026 00:00:00')).startedAt).toBe('2026-11-03T23:59:59');
  });

  test('05/05 is one day either way and is not asked about', () => {
    expect(read(table('05/05/2026 22:00:00', '05/05/2026 22:00:01')).startedAt).toBe('2026-05-05T22:00:00');
  });

  test('four rows with the same clock are a quarter of a second apart', () => {
    const night = read(lines('Time,SpO2', ...rows(0, 12, (at) => `22:00:0${Math.floor(at / 4)},95`)));
    expect([...night.seconds]).toEqual([0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 2.75]);
  });

  test('a clock that goes back says where', () => {
    const found = problem(
      table('2026-10-25 02:59:58', '2026-10-25 02:59:59', '2026-10-25 02:00:00', '2026-10-25 02:00:01'),
    );
    expect(found.line).toBe(4);
    expect(found.message).toContain('from 02:59:59 to 02:00:00');
    expect(problem(table('22:00:05', '22:00:04')).line).toBe(3);
  });
});

describe('damage', () => {
  test('a recorder that runs before the probe is on starts with empty rows', () => {
    const night = read(lines('Time,SpO2,Pulse', '22:00:00,,', '22:00:01,--,--', '22:00:02,95,60', '22:00:03,96,60'));
    expect([...night.spo2]).toEqual([Number.NaN, Number.NaN, 95, 96]);
    expect(night.startedAt).toBe('22:00:00');
  });

  test('no value is no value: empty, dashes, stars and words', () => {
    const night = read(
      lines('Time,SpO2,Pulse', '22:00:00,96,60', '22:00:01,,', '22:00:02,--,--', '22:00:03,N/A,***', '22:00:04,95,61'),
    );
    expect([...night.spo2]).toEqual([96, Number.NaN, Number.NaN, Number.NaN, 95]);
    expect(night.notes).toEqual([]);
  });

  test('a value that is no number is left empty and told with its line', () => {
    const night = read(lines('Time,SpO2', '22:00:00,96', '22:00:01,9O', '22:00:02,95'));
    expect(night.spo2[1]).toBeNaN();
    expect(night.notes.join(' ')).toContain('"9O" in line 3');
  });

  test('a row cut off at the end is told', () => {
    const night = read(`${csvOf(flat(95, 100))}\n22:0`);
    expect(night.spo2.length).toBe(100);
    expect(night.notes.join(' ')).toContain('The table ends at line 101');
  });

  test('a file with much damage inside is refused with the first bad line', () => {
    const text = csvOf(flat(95, 200)).split('\n');
    for (let at = 50; at < 60; at += 1) text[at] = '#!garbage';
    const found = problem(text.join('\n'));
    expect(found.line).toBe(51);
    expect(found.message).toContain('#!garbage');
  });

  test.each([
    ['nothing', '', 'empty'],
    ['white space', ' \n \n', 'empty'],
    ['prose', 'Dear team,\nplease find the night attached.\nThank you', 'No table found'],
    ['bytes', 'PK\u0003\u0004\0\0\0\0', 'not text'],
    ['headings only', 'Time,SpO2,Pulse', 'No table found'],
    ['one row', 'Time,SpO2,Pulse\n22:00:00,95,60', 'two rows'],
  ])('a file of %s is explained', (_, text, words) => {
    expect(problem(text).message).toContain(words);
  });

  test('a thousand damaged files: always an answer or an explanation, never a throw, never an endless night', () => {
    const good = lines(
      'Recorder 1',
      'Time;SpO2;Pulse',
      ...rows(0, 60, (at) => `20/11/2026 22:00:${String(at).padStart(2, '0')};${95 - (at % 5)},5;"${60 + (at % 9)}"`),
    );
    const dice = randomFrom(20261125);
    const pieces = [
      '"',
      ';',
      ',',
      '\t',
      '\n',
      '\r',
      '\0',
      ':',
      '/',
      '-',
      '9999999999',
      '1e999',
      'NaN',
      '\ud800',
      '%',
      '',
      '99',
      'T',
      ' ',
      '31/02/2026',
    ];
    let explained = 0;
    for (let trial = 0; trial < 1000; trial += 1) {
      let text = good;
      for (let change = 0; change <= dice() * 12; change += 1) {
        const at = Math.floor(dice() * text.length);
        const cut = Math.floor(dice() * dice() * 80);
        text = text.slice(0, at) + (pieces[Math.floor(dice() * pieces.length)] ?? '') + text.slice(at + cut);
      }
      if (dice() < 0.1) text = text.slice(0, Math.floor(dice() * text.length));
      const before = text;
      const found = readCsv(text);
      expect(text).toBe(before);
      if (!found.ok) {
        explained += 1;
        expect(found.problems.length).toBeGreaterThan(0);
        for (const one of found.problems) expect(one.message.length).toBeGreaterThan(10);
        continue;
      }
      const { seconds, spo2 } = found.recording;
      expect(seconds.length).toBe(spo2.length);
      expect(seconds.every((second, at) => second >= (seconds[at - 1] ?? 0) && second <= 48 * 3600)).toBe(true);
      expect(() => summarise(found.recording)).not.toThrow();
    }
    expect(explained).toBeGreaterThan(50);
    expect(explained).toBeLessThan(950);
  });
});

test('work grows in step with the file: one long night takes about as long as eight short ones of the same rows', () => {
  const short = csvOf(flat(95, 20_000));
  const long = csvOf(flat(95, 160_000));
  const time = (of: () => void) => {
    const start = performance.now();
    of();
    return performance.now() - start;
  };
  read(short);
  // Taken in turns, so that other work on the machine weighs on both. Work that grew as the square would give eight.
  const spent = [0, 0];
  for (let round = 0; round < 5; round += 1) {
    spent[0] = (spent[0] ?? 0) + time(() => read(long));
    spent[1] = (spent[1] ?? 0) + time(() => Array.from({ length: 8 }, () => read(short)));
  }
  expect((spent[0] ?? 0) / (spent[1] ?? 1)).toBeLessThan(4);
});

describe('too much', () => {
  const problemOf = (text: string) => {
    const read = readCsv(text);
    return read.ok ? 'read' : `${read.problems[0]?.line}: ${read.problems[0]?.message}`;
  };

  test('more lines than a night has are refused, with the line', () => {
    expect(problemOf('time,spo2\n'.repeat(mostLines + 1))).toBe(
      `${mostLines + 1}: The file has more than ${mostLines} lines: more than one night. Split it into single nights`,
    );
  });

  test('a line that no recorder writes is refused, with its number; one as long as the limit is not', () => {
    const table = (width: number) => `time,spo2\n${'x'.repeat(width)}\n`;
    expect(problemOf(table(longestLine + 1))).toMatch(/^2: This line has more than/);
    expect(problemOf(table(longestLine))).not.toMatch(/This line has more than/);
  });

  test('one line of 20 million characters is refused in a moment', () => {
    const start = performance.now();
    expect(problemOf('9'.repeat(20_000_000))).toMatch(/^1: This line has more than/);
    expect(performance.now() - start).toBeLessThan(3000);
  });
});
