/**
 * A page's content security policy lists what that page holds. Astro writes into every page the hashes of every inline
 * style and script of the site: more than a kilobyte that no packing makes smaller, and a wider policy than a page needs.
 */
import { createHash } from 'node:crypto';
import { everyPage } from './every-page.ts';

const inline = /<(style|script)(?=[\s>])[^>]*>(.*?)<\/\1>/gs;
const policy = /(<meta http-equiv="content-security-policy" content=")([^"]*)(")/;

/** @returns the page with only its own hashes in its policy */
export function withOwnPolicy(html: string): string {
  const held = new Set(
    Array.from(
      html.matchAll(inline),
      ([, , text = '']) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`,
    ),
  );
  return html.replace(
    policy,
    (_, open, words, close) =>
      open + words.replace(/ ('sha256-[^']+')/g, (all: string, hash: string) => (held.has(hash) ? all : '')) + close,
  );
}

export const ownPolicy = () => everyPage('own-policy', withOwnPolicy);
