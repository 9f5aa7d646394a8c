import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkValue, onEvidence } from '../../../calculators/agreement/agreed-evidence.ts';
import { type Agreement, agreementText } from '../../../calculators/agreement/agreement.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { codeFragment, fragmentIn, linkFragment, pack, unpack } from '../../../src/agreement/link.ts';
import { agreement, anyAgreement, published } from './agreement-setup.ts';

async function opened(fragment: string): Promise<Agreement | string> {
  const unpacked = await unpack(fragment);
  if (!unpacked.ok) return unpacked.message;
  const read = readAgreement(unpacked.text, published);
  return read.ok ? read.agreement : read.problems.map(({ path, message }) => `${path}: ${message}`).join('; ');
}

describe('an agreement carried in an address', () => {
  test('comes out of file, link and QR code as it went in, whatever it holds', async () => {
    await fc.assert(
      fc.asyncProperty(anyAgreement, async (whole) => {
        const recorded = onEvidence(whole, published, whole.evidence.date);
        const packed = await pack(recorded);
        expect(await opened(linkFragment(packed))).toEqual(recorded);
        expect(await opened(codeFragment(packed))).toEqual(recorded);
        const file = readAgreement(agreementText(recorded), published);
        expect(file.ok && file.agreement).toEqual(recorded);
      }),
      { numRuns: 200 },
    );
  });

  test('holds only what an address may hold, and the QR code\u2019s holds a run of digits', async () => {
    const packed = await pack(agreement());
    expect(linkFragment(packed)).toMatch(/^#1\.[0-9a-z]{1,7}\.[A-Za-z0-9_-]+$/);
    expect(codeFragment(packed)).toMatch(/^#1d\.[0-9a-z]{1,7}\.[0-9]+$/);
  });

  test('with one character lost, changed or doubled is refused, at any place', async () => {
    const fragments = [linkFragment(await pack(agreement())), codeFragment(await pack(agreement()))];
    for (const fragment of fragments)
      for (let at = 3; at < fragment.length; at += 3) {
        const other = fragment[at] === '7' ? '8' : '7';
        for (const spoiled of [
          fragment.slice(0, at) + fragment.slice(at + 1),
          fragment.slice(0, at) + other + fragment.slice(at + 1),
          fragment.slice(0, at) + fragment[at] + fragment.slice(at),
        ])
          if (spoiled !== fragment) expect((await unpack(spoiled)).ok).toBe(false);
      }
  });

  test.each([
    ['', 'this link holds no agreement that this copy of the handbook can read. Ask the sender for the file'],
    [
      '#demonstration',
      'this link holds no agreement that this copy of the handbook can read. Ask the sender for the file',
    ],
    ['#2.abc.def', 'this link holds no agreement that this copy of the handbook can read. Ask the sender for the file'],
    ['#1.abc.AAAA', 'part of this link is missing or changed. Ask the sender for the file'],
  ])('"%s" is refused', async (fragment, message) => {
    expect(await unpack(fragment)).toEqual({ ok: false, message });
  });

  /** A link made by someone else: packed and checked as ours are, around anything. */
  const forged = (content: string) => {
    const packed = new Uint8Array(deflateRawSync(content));
    return `#1.${checkValue(packed.join()).slice(0, 7)}.${Buffer.from(packed).toString('base64url')}`;
  };

  test('a few bytes made to unpack to millions are refused before they have', async () => {
    const bomb = forged(' '.repeat(50_000_000));
    expect(bomb.length).toBeLessThan(100_000);
    expect(await unpack(bomb)).toEqual({
      ok: false,
      message: 'this link holds more than the 200000 characters that an agreement may have',
    });
  });

  test('bytes that are no packing at all are refused', async () => {
    const packed = Uint8Array.from([255, 254, 253, 1, 2, 3]);
    expect(await unpack(linkFragment(packed))).toEqual({
      ok: false,
      message: 'this link cannot be read. Ask the sender for the file',
    });
  });

  test('a link that holds something else than an agreement is refused as a file would be', async () => {
    expect(await opened(forged('{"format":"tidemark-agreement","version":9}'))).toBe(
      'version: expected 1, found 9: the file is newer than this copy of the handbook',
    );
  });

  test('a thousand random fragments are refused or read, and none is anything else', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: fc.constantFrom(...'#1d.-_Az09'), maxLength: 60 }), async (fragment) => {
        const unpacked = await unpack(`#1${fragment}`);
        expect(typeof (unpacked.ok ? unpacked.text : unpacked.message)).toBe('string');
      }),
      { numRuns: 1000 },
    );
  });
});

describe('a link as it arrives in a message', () => {
  const address = async () => `https://clinic.example/agree/open/${linkFragment(await pack(agreement()))}`;
  const whole = JSON.stringify(agreement());

  test.each(['.', ',', ').', '>', '"', '!\n'])('with %j after it still opens', async (after) => {
    const unpacked = await unpack(new URL(await address()).hash + after);
    expect(unpacked.ok && unpacked.text).toBe(whole);
  });

  test.each<[string, (link: string) => string]>([
    ['in a sentence', (link) => `Here it is: ${link}. Compare the digest.`],
    ['with words after it and no stop', (link) => `${link} please`],
    ['broken over lines by mail', (link) => `See\n${link.replace(/.{70}/g, '$&\r\n')}\n`],
    ['broken with spaces', (link) => link.replace(/.{70}/g, '$& ')],
    ['the part after the # alone', (link) => link.slice(link.indexOf('#'))],
  ])('%s: what carries the agreement is found', async (_, around) => {
    const unpacked = await unpack(await fragmentIn(around(await address())));
    expect(unpacked.ok && unpacked.text).toBe(whole);
  });

  test('a text without one carries none, and one that was cut is refused', async () => {
    expect(await fragmentIn('no link here #1 of 2')).toBe('');
    const cut = (await address()).slice(0, -5);
    expect((await unpack(await fragmentIn(cut))).ok).toBe(false);
  });
});
