/**
 * What only the finished page knows. Source numbers that follow each other have a comma between them: 9 and 10 are not 910.
 *
 * A date and the short name of the cough machine are read whole: a browser breaks a line at any hyphen, and no style can forbid
 * it for a word that has no element of its own. An ordinary hyphen stays in it, so that it is found and copied as typed.
 */

/** What is no running text, or is drawn again by a script that knows nothing of the added elements. */
const apart =
  /<head[\s>].*?<\/head>|<(astro-island|script|style|svg|math|textarea|option|time|code|pre)[\s>].*?<\/\1>|<[^>]*>/gs;

const whole = (text: string): string =>
  text
    .replace(/(?<![\w/-])\d{4}-\d\d-\d\d(?![\w/-])/g, '<time>$&</time>')
    .replace(/\(?(?<![\w-])MI-E(?![\w-])[).,:;]*/g, '<span class="whole">$&</span>');

export function typeset(html: string): string {
  let done = '';
  let from = 0;
  for (const { 0: part, index } of html.matchAll(apart)) {
    const asList = part === '</a>' && html.startsWith('</sup><sup class="ref', index + 4);
    done += whole(html.slice(from, index)) + (asList ? ',' : '') + part;
    from = index + part.length;
  }
  return done + whole(html.slice(from));
}
