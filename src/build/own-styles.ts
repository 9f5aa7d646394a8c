/**
 * A page contains the styles that it uses. Astro writes into each page of a kind the styles of every part that any of them may
 * show: a page of words alone would also have those of forms, scales, drawings and findings.
 *
 * A family of styles is left out as a whole, and only where nothing on the page, and no script of it, can need it.
 */
import { createHash } from 'node:crypto';
import { everyPage } from './every-page.ts';

interface Family {
  /** a rule belongs to it if each of its selectors names one of these */
  selector: RegExp;
  /** the page needs it */
  neededBy: RegExp;
}

/** What an island or a form draws is not in the page as it was written. */
const drawsMore = '<astro-island|data-hold|id="instant"';
const families: Family[] = [
  { selector: /\.page-end\b|\.parts\b|^\.p\d+$/, neededBy: /class="[^"]*\b(page-end|parts)\b/ },
  { selector: /\.drawing\b/, neededBy: /class="[^"]*\bdrawing\b/ },
  // The meeting draws a scale when a measure is opened.
  { selector: /\.gauge(-figure|-title)?\b/, neededBy: /class="[^"]*\bgauge|<astro-island[^>]*AgreeScreen/ },
  {
    selector: /\.(criteria|mark|for|more|local-by)\b/,
    neededBy: new RegExp(`class="[^"]*\\bcriteria\\b|data-local|class="mark"|${drawsMore}`),
  },
  {
    selector: /\.(findings?|result-mark|instant|chips|worked|only-if|topics)\b/,
    neededBy: new RegExp(`class="[^"]*\\bfinding|${drawsMore}`),
  },
  {
    selector:
      /\.(field|entry|chip|unit|problem|result|working|series|calculator)\b|:where\(main\)|^:where\(main|file-selector-button|^\[type=.?file|^form>fieldset|^fieldset:disabled/,
    neededBy: new RegExp(`class="[^"]*\\b(calculator|entry|field)\\b|${drawsMore}`),
  },
];

/** Rules of a style sheet without comments, each with the text before its braces; what is inside an at-rule is not taken apart. */
function rulesOf(css: string): { head: string; body: string }[] {
  const rules: { head: string; body: string }[] = [];
  let depth = 0;
  let start = 0;
  let open = 0;
  for (let at = 0; at < css.length; at += 1) {
    if (css[at] === '{') {
      if (depth === 0) open = at;
      depth += 1;
    } else if (css[at] === '}') {
      depth -= 1;
      if (depth < 0) throw new Error('a style sheet closes more than it opens');
      if (depth > 0) continue;
      rules.push({ head: css.slice(start, open), body: css.slice(open + 1, at) });
      start = at + 1;
    }
  }
  if (depth !== 0 || css.slice(start).trim() !== '') throw new Error('a style sheet ends inside a rule');
  return rules;
}

/** Selectors of a list; a comma inside brackets is part of one. */
function selectorsOf(head: string): string[] {
  const found = [''];
  let depth = 0;
  for (const letter of head) {
    if (letter === '(') depth += 1;
    if (letter === ')') depth -= 1;
    if (letter === ',' && depth === 0) found.push('');
    else found[found.length - 1] += letter;
  }
  return found.map((selector) => selector.trim());
}

function kept(css: string, absent: readonly RegExp[]): string {
  return rulesOf(css)
    .map(({ head, body }) => {
      if (/^\s*@(media|supports)/.test(head)) {
        const inside = kept(body, absent);
        return inside === '' ? '' : `${head}{${inside}}`;
      }
      const isAbsent = (selector: string) => absent.some((family) => family.test(selector));
      return !head.trim().startsWith('@') && selectorsOf(head).every(isAbsent) ? '' : `${head}{${body}}`;
    })
    .join('');
}

const hashOf = (text: string): string => `sha256-${createHash('sha256').update(text).digest('base64')}`;

/** @returns the page with the styles that it can need, and their hash in its policy */
export function withOwnStyles(html: string): string {
  const words = html.replace(/<style[^>]*>.*?<\/style>/gs, '');
  const absent = families.filter(({ neededBy }) => !neededBy.test(words)).map(({ selector }) => selector);
  return [...html.matchAll(/<style[^>]*>(.*?)<\/style>/gs)].reduce((page, [, css = '']) => {
    const own = kept(css, absent);
    return page.replace(css, () => own).replace(hashOf(css), () => hashOf(own));
  }, html);
}

export const ownStyles = () => everyPage('own-styles', withOwnStyles);
