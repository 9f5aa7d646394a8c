/** A clinic's criteria in words, beside the published ones. */
import { describe, expect, test } from 'vitest';
import { notchWords, originWords, spanWords, standingLine } from '../../../calculators/agreement/agreement-words.ts';
import { peopleWords } from '../../../calculators/agreement/criterion-words.ts';
import { ownCriterion, published, publishedCriterion } from './agreement-setup.ts';

const sourceName = (id: string) => `source ${id}`;
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('for whom', () => {
  test.each([
    [{ disease: 'any', population: 'any' }, 'any slowly progressive neuromuscular disease; all ages'],
    [{ disease: 'als', population: 'adult' }, 'ALS/MND; adults'],
    [{ disease: 'dmd', population: 'child', sex: 'male' }, 'Duchenne; children; boys'],
    [{ disease: 'als', population: 'adult', sex: 'female' }, 'ALS/MND; adults; women'],
    [{ disease: 'als', population: 'adult', sex: 'male' }, 'ALS/MND; adults; men'],
    [
      { disease: 'any', population: 'any', sex: 'female' },
      'any slowly progressive neuromuscular disease; all ages; female',
    ],
    [
      { disease: 'sma', population: 'child', rule: { minAgeYears: 2, maxAgeYears: 12 } },
      'SMA; children; from 2 years; up to 12 years',
    ],
    [
      { disease: 'mg', population: 'adult', rule: { acute: true, posture: 'upright' } },
      'Myasthenia; adults; acute illness; upright',
    ],
  ] as const)('%j', (criterion, words) => expect(plain(peopleWords(criterion))).toBe(words));
});

describe('how it stands to what is published', () => {
  test('the span of the published criteria beside it', () => {
    expect(plain(spanWords(ownCriterion(), published))).toMatch(/^published: \d+ to \d+ %$/);
    expect(
      spanWords(
        ownCriterion({ measure: 'orthopnoea', comparator: 'present', value: undefined, unit: undefined }),
        published,
      ),
    ).toBe('no criterion is published for the same measure');
    expect(spanWords(ownCriterion({ measure: 'base-excess' }), published)).toBe(
      'no criterion is published for the same measure',
    );
  });

  test('kept, changed, its own, or from a criterion that is gone', () => {
    const asPublished = publishedCriterion('aan-als-fvc-lt-50');
    expect(originWords(asPublished, published, sourceName)).toMatch(
      /^Kept as published: source aan-2009, .+; read in a summary$/,
    );
    expect(plain(originWords({ ...asPublished, value: 65, reason: 'Far away' }, published, sourceName))).toMatch(
      /^Changed from source aan-2009, .+, which says below 50 % predicted; read in a summary$/,
    );
    expect(originWords(ownCriterion(), published, sourceName)).toBe('The clinic\u2019s own criterion');
    expect(originWords({ ...asPublished, basis: 'gone-mark' }, published, sourceName)).toBe(
      'Taken from a published criterion that is no longer in the handbook (gone-mark)',
    );
    expect(
      originWords(
        { ...asPublished, read: { role: 'Physician', date: '2026-11-01', locator: 'page 5' } },
        published,
        sourceName,
      ),
    ).toMatch(/; read at its source by Physician, 2026-11-01, page 5$/);
  });
});

describe('in short', () => {
  test('a notch on the gauge has its unit only where it is another', () => {
    expect(plain(notchWords(ownCriterion(), '%'))).toBe('< 65');
    expect(
      plain(notchWords(ownCriterion({ measure: 'paco2', comparator: '>=', value: 6, unit: 'kPa' }), 'mm[Hg]')),
    ).toBe('\u2265 6 kPa');
    expect(notchWords(ownCriterion({ value: undefined, unit: undefined }), '%')).toBe('');
  });

  test('the standing of a published criterion with the day it was read; of a clinic\u2019s own, who agreed, and how it departs', () => {
    const [row] = published.criteria.filter(({ standing, checked }) => standing === 'checked' && checked);
    if (!row) throw new Error('no checked row');
    expect(standingLine(row)).toBe(`read at source, ${row.checked}`);
    const local = {
      clinic: 'Tern Valley',
      agreed: '2026-11-25',
      departs: 'less-cautious' as const,
      reason: undefined,
      read: undefined,
    };
    expect(standingLine({ ...row, local })).toBe(
      'Agreed by Tern Valley, 2026-11-25. Less cautious than every published criterion for the same measure',
    );
    const read = { role: 'Physician', date: '2026-11-01', locator: 'page 5' };
    expect(standingLine({ ...row, local: { ...local, departs: undefined, read } })).toBe(
      'Agreed by Tern Valley, 2026-11-25. Read at its source by Physician, 2026-11-01, page 5',
    );
  });
});
