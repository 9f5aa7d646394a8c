/**
 * An agreement inside an address: packed into the part after the '#', which a browser never sends to a server.
 *
 *   #1.<check>.<packed>
 *
 * `packed` is the agreement without its line breaks, deflated. In a link it is written in 64 letters and digits; in a QR
 * code in digits alone, of which the code's own numeric mode makes nearly full use (17 digits for 7 bytes): about three
 * tenths fewer squares for a camera to tell apart. `check` tells a link that lost a piece on the way from a whole one; it
 * proves nothing about who made it.
 */
import { checkValue } from '../../calculators/agreement/agreed-evidence.ts';
import { type Agreement, limits } from '../../calculators/agreement/agreement.ts';

/** Mail and messages cut longer addresses; a file has no such limit. */
export const longestLink = 8_000;
/** Bytes that a QR code holds and a phone camera still reads from paper or a screen: 149 squares across, with the address. */
export const mostInCode = 1_900;

/** Mail and messages leave a full stop or a bracket at the end of an address, or put one on. */
const withoutStop = (fragment: string): string => fragment.trim().replace(/[.,;:!?'"<>()[\]\s]+$/, '');

/** What carries an agreement, in text of any kind. */
const carrier = /#1d?\.[0-9a-z]{1,13}\.[\w-]*/;

/**
 * The part of a pasted text that carries an agreement: a whole message, an address, or the fragment alone. Mail breaks long
 * lines, and words can follow the link without a stop: what unpacks is taken.
 */
export async function fragmentIn(text: string): Promise<string> {
  const found = [text, text.replace(/[\r\n]+/g, ''), text.replace(/\s+/g, '')].flatMap(
    (one) => carrier.exec(one)?.[0] ?? [],
  );
  for (const one of found) if ((await unpack(one)).ok) return one;
  return found[0] ?? '';
}

export type Unpacked = { ok: true; text: string } | { ok: false; message: string };

export async function pack(agreement: Agreement): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([JSON.stringify(agreement)]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

export const linkFragment = (packed: Uint8Array): string => `#1.${check(packed)}.${toLetters(packed)}`;
/** The check starts with a letter and ends with a point, so that the digits stay a run of their own. */
export const codeFragment = (packed: Uint8Array): string => `#1d.${check(packed)}.${toDigits(packed)}`;

/** @returns the agreement's text, unread and unchecked but for having arrived whole */
export async function unpack(fragment: string): Promise<Unpacked> {
  const found = /^#1(d?)\.([0-9a-z]{1,13})\.([\w-]*)$/.exec(withoutStop(fragment));
  if (!found)
    return {
      ok: false,
      message: 'this link holds no agreement that this copy of the handbook can read. Ask the sender for the file',
    };
  const [, digits, expected, body = ''] = found;
  const packed = digits ? fromDigits(body) : fromLetters(body);
  if (packed === undefined || check(packed) !== expected)
    return { ok: false, message: 'part of this link is missing or changed. Ask the sender for the file' };
  return inflate(packed);
}

const check = (packed: Uint8Array): string => checkValue(packed.join()).slice(0, 7);

/** Stops as soon as more comes out than an agreement may hold: a few bytes can be made to unpack to millions. */
async function inflate(packed: Uint8Array<ArrayBuffer>): Promise<Unpacked> {
  const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const decoder = new TextDecoder();
  let text = '';
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      text += decoder.decode(part.value, { stream: true });
      if (text.length > limits.file) {
        void reader.cancel();
        return {
          ok: false,
          message: `this link holds more than the ${limits.file} characters that an agreement may have`,
        };
      }
    }
  } catch {
    return { ok: false, message: 'this link cannot be read. Ask the sender for the file' };
  }
  return { ok: true, text: text + decoder.decode() };
}

function toLetters(bytes: Uint8Array): string {
  const binary = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function fromLetters(letters: string): Uint8Array<ArrayBuffer> | undefined {
  try {
    const binary = atob(letters.replaceAll('-', '+').replaceAll('_', '/'));
    return Uint8Array.from(binary, (character) => character.charCodeAt(0));
  } catch {
    return undefined;
  }
}

/** Digits that hold so many bytes, up to seven: 256 to the nth needs this many. */
const digitsFor = [0, 3, 5, 8, 10, 13, 15, 17] as const;

function toDigits(bytes: Uint8Array): string {
  const words: string[] = [];
  for (let at = 0; at < bytes.length; at += 7) {
    const group = bytes.slice(at, at + 7);
    const number = group.reduce((sum, byte) => sum * 256n + BigInt(byte), 0n);
    words.push(String(number).padStart(digitsFor[group.length] ?? 17, '0'));
  }
  return words.join('');
}

function fromDigits(digits: string): Uint8Array<ArrayBuffer> | undefined {
  const bytes: number[] = [];
  for (let at = 0; at < digits.length; at += 17) {
    const word = digits.slice(at, at + 17);
    const count = digitsFor.indexOf(word.length as 17);
    if (count < 1 || !/^\d+$/.test(word)) return undefined;
    let number = BigInt(word);
    if (number >= 256n ** BigInt(count)) return undefined;
    const group: number[] = [];
    for (let place = 0; place < count; place += 1) {
      group.unshift(Number(number % 256n));
      number /= 256n;
    }
    bytes.push(...group);
  }
  return Uint8Array.from(bytes);
}
