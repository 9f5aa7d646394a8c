/** The digest that people compare on paper: known values of SHA-256, a form written by hand, and nothing made up without it. */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { checkValue } from '../../../calculators/agreement/agreed-evidence.ts';
import { type Agreement, agreementText } from '../../../calculators/agreement/agreement.ts';
import { agreementLine, canonicalText, digestGroups } from '../../../calculators/agreement/digest.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { digestOf, digestText } from '../../../src/agreement/digest.ts';
import { agreement, anyAgreement, ownCriterion, published } from './agreement-setup.ts';

/** By another implementation than the one under test. */
const independent = (text: string): string =>
  createHash('sha256')
    .update(text, 'utf8')
    .digest('hex')
    .slice(0, 32)
    .replace(/.{4}(?=.)/g, '$& ');

const small = agreement({ clinic: 'Tern Valley \u00e9 "north"', marks: [ownCriterion()] });
/** The canonical text of it, written by hand: sorted fields, lists in their order, no space that is not in a text. */
const byHand =
  '{"agreed":"2026-11-25","agreedBy":["Physician","Respiratory therapist"],"clinic":"Tern Valley \u00e9 \\"north\\"",' +
  '"evidence":{"date":"2026-11-25"},"format":"tidemark-agreement","marks":[{"comparator":"<","decision":"night-ventilation",' +
  '"disease":"als","id":"own","measure":"fvc-percent","population":"adult","reason":"Machines take three weeks to come",' +
  '"unit":"%","value":65}],"phones":[{"label":"Ventilation service","number":"01632 960 101"}],"review":"2027-11-25",' +
  '"version":1,"waits":[{"weeks":6,"what":"MI-E device"}]}';

/** The same data with the fields of every object in another order. */
const shuffled = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(shuffled);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, part]) => [key, shuffled(part)]),
  );
};

afterEach(() => vi.unstubAllGlobals());

describe('the digest of a text', () => {
  // The published examples of FIPS 180 for one block, no bits and two blocks: their first 128 bits.
  test.each([
    ['abc', 'ba78 16bf 8f01 cfea 4141 40de 5dae 2223'],
    ['', 'e3b0 c442 98fc 1c14 9afb f4c8 996f b924'],
    ['abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq', '248d 6a61 d206 38b8 e5c0 2693 0c3e 6039'],
  ])('of "%s" is the start of its SHA-256', async (text, expected) => {
    expect(await digestText(text)).toBe(expected);
  });

  test('is eight groups of four digits, leading noughts kept', () => {
    expect(digestGroups(new Uint8Array(32))).toBe('0000 0000 0000 0000 0000 0000 0000 0000');
    expect(digestGroups(Uint8Array.from({ length: 32 }, (_, at) => at))).toBe(
      '0001 0203 0405 0607 0809 0a0b 0c0d 0e0f',
    );
  });
});

describe('the digest of an agreement', () => {
  test('is worked out from the text written by hand', async () => {
    expect(canonicalText(small)).toBe(byHand);
    expect(await digestOf(small)).toBe(independent(byHand));
  });

  test('is the same in whatever order the fields come, and after a file was written and read', async () => {
    expect(Object.keys(shuffled(small) as Agreement)).not.toEqual(Object.keys(small));
    await fc.assert(
      fc.asyncProperty(anyAgreement, async (whole) => {
        const digest = await digestOf(whole);
        expect(digest).toBe(independent(canonicalText(whole)));
        expect(await digestOf(shuffled(whole) as Agreement)).toBe(digest);
        const read = readAgreement(agreementText(whole), published);
        expect(read.ok && (await digestOf(read.agreement))).toBe(digest);
      }),
      { numRuns: 50 },
    );
  });

  test.each<[string, Partial<Agreement>]>([
    ['one digit of a phone number', { phones: [{ label: 'Ventilation service', number: '01632 960 102' }] }],
    ['a threshold', { marks: [ownCriterion({ value: 60 })] }],
    ['the order of two roles', { agreedBy: ['Respiratory therapist', 'Physician'] }],
    ['a letter that looks the same', { clinic: 'Tern Valley e\u0301 "north"' }],
    ['a space', { clinic: 'Tern Valley \u00e9  "north"' }],
  ])('is another after a change of %s', async (_, change) => {
    expect(await digestOf({ ...small, ...change })).not.toBe(await digestOf(small));
  });

  test('no two of ten thousand different texts share one', async () => {
    const digests = await Promise.all(
      Array.from({ length: 10_000 }, (_, n) => digestOf({ ...small, clinic: `Clinic ${n}` })),
    );
    expect(new Set(digests).size).toBe(10_000);
  });

  // Found in five seconds by trying 2^27 endings of each: the mixing of 53 bits that was the digest once, and is now only a
  // check against accidents. One is the text a team reads, the other has another threshold and another telephone number.
  test('tells apart two texts that were made to share the check value that was the digest once', async () => {
    const shown = agreement({
      phones: [{ label: 'Ventilation service', number: '01632 960 101' }],
      waits: [{ what: 'MI-E device penagko', weeks: 6 }],
      marks: [ownCriterion({ value: 65 })],
    });
    const slippedIn = agreement({
      phones: [{ label: 'Ventilation service', number: '01632 960 999' }],
      waits: [{ what: 'MI-E device keknkfb', weeks: 6 }],
      marks: [ownCriterion({ value: 45 })],
    });
    expect(checkValue(canonicalText(shown))).toBe(checkValue(canonicalText(slippedIn)));
    const digests = [await digestOf(shown), await digestOf(slippedIn)];
    expect(digests[0]).not.toBe(digests[1]);
    // Not by a hair: no group of four is the same.
    const [one = [], other = []] = digests.map((digest) => digest?.split(' '));
    expect(one.filter((group, at) => group === other[at])).toEqual([]);
  });

  test('is none, and nothing in its place, where the browser offers no SHA-256', async () => {
    vi.stubGlobal('crypto', {});
    const digest = await digestOf(small);
    expect(digest).toBeUndefined();
    expect(agreementLine(small, digest, { version: '0.2.0', built: '2026-11-29' })).toBe(
      'Agreement of Tern Valley \u00e9 "north", agreed 2026-11-25, review due 2027-11-25: no digest in this browser over http; handbook 0.2.0, built 2026-11-29.',
    );
  });
});

test('the line names the agreement, its digest and the edition', () => {
  expect(agreementLine(small, independent('abc'), { version: '0.2.0', built: '2026-11-29' })).toBe(
    'Agreement of Tern Valley \u00e9 "north", agreed 2026-11-25, review due 2027-11-25: digest ba78 16bf 8f01 cfea 4141 40de 5dae 2223; handbook 0.2.0, built 2026-11-29.',
  );
});
