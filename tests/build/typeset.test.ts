/** What a browser may not break, in the finished page. */
import { expect, test } from 'vitest';
import { typeset } from '../../src/theme/typeset.ts';

test('a date and MI-E stay on one line, in running text only', () => {
  expect(typeset('<p>Read on 2026-11-25.</p>')).toBe('<p>Read on <time>2026-11-25</time>.</p>');
  expect(typeset('<p>the machine (MI-E), daily</p>')).toBe(
    '<p>the machine <span class="whole">(MI-E),</span> daily</p>',
  );
  for (const kept of [
    '<time datetime="2026-11-25">2026-11-25</time>',
    '<a href="/2026-11-25/">x</a>',
    '<head><title>MI-E 2026-11-25</title></head>',
    '<script>"MI-E"</script>',
    '<astro-island props="2026-11-25"><p>MI-E on 2026-11-25</p></astro-island>',
    '<p>S1-2026-11-25-3 and MI-EX</p>',
  ])
    expect(typeset(kept)).toBe(kept);
});

test('source numbers that follow each other are parted, and no others', () => {
  const ref = (n: number) => `<sup class="ref"><a href="#s${n}">${n}</a></sup>`;
  expect(typeset(`close.${ref(9)}${ref(10)} Next.${ref(1)}`)).toBe(
    `close.<sup class="ref"><a href="#s9">9,</a></sup>${ref(10)} Next.${ref(1)}`,
  );
});
