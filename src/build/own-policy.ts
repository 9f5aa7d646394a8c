/**
 * A page's content security policy lists what that page holds. Astro writes into every page the hashes of every inline
 * style and script of the site: more than a kilobyte that no packing makes smaller, and a wider policy than a page needs.
 */
import { createHash } from 'node:crypto';
import { everyPage } from './every-page.ts';

const inline = /<(style|script)(?=[\s>])[^>]*>(.*?)<\/\1>/gs;
const policy = /(<meta http-equiv="content-security-policy" content=")([^"]*)(")/;

/**
 * @returns the page with only its own hashes in its policy
 * @throws where the page has no policy with hashes as Astro writes it: the page would be sent unprotected or with them all
 */
export function withOwnPolicy(html: string): string {
  if (!policy.exec(html)?.[2]?.includes("'sha256-"))
    throw new Error('no content security policy with hashes was found in the page');
  const own = new Set(
    Array.from(
      html.matchAll(inline),
      ([, , text = '']) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`,
    ),
  );
  const shortened = html.replace(
    policy,
    (_, open, words, close) =>
      open + words.replace(/ ('sha256-[^']+')/g, (all: string, hash: string) => (own.has(hash) ? all : '')) + close,
  );
  return withPolicyFirst(shortened);
}

const policyTag = /<meta http-equiv="content-security-policy" content="[^"]*"\s*\/?>/;
const charset = /<meta charset="?utf-8"?\s*\/?>/i;

/** A browser holds to a policy what comes after it: so it comes before the first script. */
function withPolicyFirst(html: string): string {
  const tag = policyTag.exec(html)?.[0];
  if (!tag || !charset.test(html)) throw new Error('the page has no policy, or does not say how it is encoded');
  return html.replace(tag, '').replace(charset, (found) => found + tag);
}

export const ownPolicy = () => everyPage('own-policy', withOwnPolicy);
