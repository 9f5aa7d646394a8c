/** The subjects may come after the other words: until then they are not known, and the rest of a line is read all the same. */
import { expect, test } from 'vitest';
import { reader, vocabularyOf } from '../../../calculators/query/read-query.ts';
import { readWordContent } from '../../read-content.ts';
import { measures } from '../evaluate/setup.ts';
import { lineReader, linesOf } from './lines.ts';

const words = readWordContent();
const later = () => reader(measures, vocabularyOf({ ...words, topics: [] }));

test('before they come a line has no subject, and once they are learnt it is read as by a reader that had them', () => {
  const lines = [...linesOf('lines-safety'), ...linesOf('lines-classes').slice(-200)].map(({ line }) => line);
  const lateReader = later();
  expect(lateReader.topics('mask leak')).toEqual([]);
  for (const line of lines) lateReader.read(line);
  lateReader.learn(words.topics);
  for (const line of lines) {
    expect([line, lateReader.topics(line)]).toEqual([line, lineReader.topics(line)]);
    expect([line, lateReader.read(line)]).toEqual([line, lineReader.read(line)]);
  }
});

test('without them every sign, danger and reading of the lines of safety is there', () => {
  const lateReader = later();
  for (const { line } of linesOf('lines-safety')) {
    const [without, whole] = [lateReader.readVisit(line), lineReader.readVisit(line)];
    expect([line, without.signs, without.dangers, without.readings]).toEqual([
      line,
      whole.signs,
      whole.dangers,
      whole.readings,
    ]);
  }
});
