/**
 * Notes that were written by hand and then compared with what the code writes: each was read by eye, as a physician and as a family
 * would read it. A golden note changes only when someone has read the new one (`vitest -u` writes it).
 */
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type NoteInput, noteText, plainNote } from '../../calculators/visit/note.ts';
import { readingGrade, syllables } from '../reading-grade.ts';
import { goldens, inputOf } from './golden-notes.ts';

const plainSpaces = (text: string) => `${text.replace(/[\u00a0\u202f]/g, ' ')}\n`;

describe.each(goldens.map((golden) => [golden.name, golden] as const))('%s', (name, golden) => {
  const input = inputOf(golden);
  test.each([
    ['the note for the centre', `${name}.txt`, noteText],
    ['the plain version', `${name}.plain.txt`, plainNote],
  ])('%s', async (_, file, write) => {
    expect(existsSync(`tests/reference/notes/${file}`)).toBe(true);
    await expect(plainSpaces(write(input))).toMatchFileSnapshot(`notes/${file}`);
  });
});

describe('the plain version is for anybody', () => {
  test('the measure of reading tells hard from easy', () => {
    expect(['breathe', 'machine', 'oxygen', 'carbon', 'emergency', 'asked', 'needed'].map(syllables)).toEqual([
      1, 2, 3, 2, 4, 1, 2,
    ]);
    const easy = 'The cat sat on the mat. It was a warm day.';
    const hard =
      'Nocturnal hypoventilation necessitates multidisciplinary reassessment of noninvasive ventilatory parameters.';
    expect(readingGrade(easy).grade).toBeLessThan(2);
    expect(readingGrade(hard).grade).toBeGreaterThan(15);
  });

  test('US grade 6 or below in each golden note, and in its longer sentences alone', () => {
    const grades = goldens.map((golden) => {
      const text = plainNote(inputOf(golden));
      const { words, sentences, grade } = readingGrade(text);
      const longer = readingGrade(text, 6);
      const one = (value: number) => Number(value.toFixed(1));
      return { note: golden.name, words, sentences, grade: one(grade), 'from 6 words on': one(longer.grade) };
    });
    console.table(grades);
    for (const { note, grade, ...others } of grades)
      expect([note, grade <= 6, others['from 6 words on'] <= 6]).toEqual([note, true, true]);
  });

  test('in an emergency the first line says what to do now', () => {
    for (const name of ['case-d', 'case-e', 'emergency', 'child'])
      expect(plainOf(name).split('\n')[0]).toMatch(/^This is an emergency\. Call the emergency number now\./);
    for (const name of ['case-a', 'case-b', 'three-visits', 'declined-niv'])
      expect(plainOf(name)).not.toMatch(/this is an emergency/i);
  });

  test('it has no question that a clinician answers, no source, no threshold and no word of the trade', () => {
    for (const golden of goldens) {
      const written = plainOf(golden.name, { asked: '', plan: [], contacts: '' });
      expect(written).not.toMatch(
        /\bdue\b|\[|\bNIV\b|\bSNIP\b|\bFVC\b|\bMIP\b|ventilat|hypercapn|bulbar|criteri|threshold/i,
      );
      const questions = written.match(/[^.\n]*\?/g) ?? [];
      for (const question of questions)
        expect(question).toMatch(/Does it still help enough\?|What would make it easier\?/);
    }
  });
});

function plainOf(name: string, changes: Partial<NoteInput> = {}): string {
  const golden = goldens.find((one) => one.name === name);
  if (!golden) throw new Error(`no golden note ${name}`);
  return plainSpaces(plainNote({ ...inputOf(golden), ...changes }));
}
