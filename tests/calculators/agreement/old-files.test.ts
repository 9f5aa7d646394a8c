/** What the last version made opens in this one, and says the same: its file, its link, its digest on signed paper. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { agreementText } from '../../../calculators/agreement/agreement.ts';
import { asCriteria } from '../../../calculators/agreement/local-criteria.ts';
import { readAgreement } from '../../../calculators/agreement/read-agreement.ts';
import { digestOf } from '../../../src/agreement/digest.ts';
import { unpack } from '../../../src/agreement/link.ts';
import { published } from './agreement-setup.ts';

const folder = 'tests/calculators/agreement';
/** As version 0.2.0 exported it. Never write it anew: it is what clinics have. */
const text = readFileSync(`${folder}/made-with-0.2.0.txt`, 'utf8');
const link = readFileSync(`${folder}/made-with-0.2.0-link.txt`, 'utf8').trim();

test('a file of version 0.2.0 opens, whole, and is written back as it was', () => {
  const read = readAgreement(text, published);
  expect(read.ok ? [] : read.problems).toEqual([]);
  if (!read.ok) return;
  expect(read.agreement.marks).toHaveLength(10);
  expect(agreementText(read.agreement)).toBe(text);
  expect(asCriteria(read.agreement, published)).toHaveLength(10);
});

test('a link of version 0.2.0 opens to the same text', async () => {
  const unpacked = await unpack(link);
  expect(unpacked.ok && JSON.parse(unpacked.text)).toEqual(JSON.parse(text));
});

test('its digest is the one on the paper that was signed', async () => {
  const read = readAgreement(text, published);
  expect(read.ok && (await digestOf(read.agreement))).toBe('4e12 01ad 3b5a ea97 e6a2 97ba a777 ed2b');
});
