/** A support that is denied denies no sign after it: 'without NIV and cannot clear secretions'. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import type { WordFiles } from '../../../calculators/query/word-files.ts';
import { said } from './lines.ts';
import { samplesOf } from './phrase-samples.ts';

const file = <Name extends keyof WordFiles>(name: Name): WordFiles[Name] =>
  parse(readFileSync(`content/words/${name}.yaml`, 'utf8'));
const { parts } = file('parts');
// A ventilator that has stopped is itself a support: 'no NIV and ventilator stopped' denies both.
const phrases = file('signs')
  .signs.flatMap(({ say }) => say)
  .flatMap((phrase) => samplesOf(phrase, parts))
  .filter((text) => text !== '' && !text.startsWith('ventilator '));

test.each(['als without niv and ', 'als no niv and ', 'als without oxygen and ', 'sma 5 months without niv / '])(
  '"%s" before every phrase for a sign',
  (lead) => {
    const present = phrases.filter((phrase) => (said(`als ${phrase}`).present ?? []).length > 0);
    expect(present.length).toBeGreaterThan(500);
    const reversed = present.filter((phrase) => {
      const { absent = [] } = said(lead + phrase);
      return (said(`als ${phrase}`).present ?? []).some((sign) => absent.includes(sign));
    });
    expect(reversed).toEqual([]);
  },
  60_000,
);
