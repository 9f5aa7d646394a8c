import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { withOwnStyles } from '../../src/build/own-styles.ts';

const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
const page = (css: string, body: string) =>
  `<meta http-equiv="content-security-policy" content="style-src ${hash(css)};"><style>${css}</style><main>${body}</main>`;
const stylesOf = (html: string) => /<style>(.*?)<\/style>/s.exec(html)?.[1];

describe('styles of a family', () => {
  const css = 'p{color:red}.gauge .tick{fill:none}@media print{.gauge{width:1px}h2{top:0}}';

  test('are left out where the page has nothing of it', () => {
    expect(stylesOf(withOwnStyles(page(css, '<p>words</p>')))).toBe('p{color:red}@media print{h2{top:0}}');
  });

  test('stay where it has', () => {
    expect(stylesOf(withOwnStyles(page(css, '<svg class="gauge"></svg>')))).toBe(css);
  });

  test('stay where an island or a form can draw it', () => {
    const finding = '.finding{top:0}.result-mark svg{top:0}';
    expect(stylesOf(withOwnStyles(page(finding, '<astro-island></astro-island>')))).toBe(finding);
    expect(stylesOf(withOwnStyles(page(finding, '<form data-hold></form>')))).toBe(finding);
    expect(stylesOf(withOwnStyles(page(finding, '<p></p>')))).toBe('');
  });

  test('stay on the meeting, which draws its scales later', () => {
    const island =
      '<astro-island component-url="/_astro/AgreeScreen.x.js" component-export="AgreeScreen"></astro-island>';
    expect(stylesOf(withOwnStyles(page(css, island)))).toBe(css);
  });

  test('stay where a rule is for something else too', () => {
    const shared = 'svg.figure,svg.gauge{max-width:100%}';
    expect(stylesOf(withOwnStyles(page(shared, '<p></p>')))).toBe(shared);
  });

  test('frames of a movement are no rules to leave out', () => {
    const frames = '@keyframes late{0%{top:0}to{top:1px}}';
    expect(stylesOf(withOwnStyles(page(frames, '<p></p>')))).toBe(frames);
  });
});

test('the policy names the styles as they are sent', () => {
  const html = withOwnStyles(page('.gauge{top:0}p{top:0}', '<p></p>'));
  expect(html).toContain(hash('p{top:0}'));
  expect(html).not.toContain(hash('.gauge{top:0}p{top:0}'));
});

test('a style sheet that cannot be read stops the build', () => {
  expect(() => withOwnStyles(page('p{color:red', ''))).toThrow();
  expect(() => withOwnStyles(page('p{color:red}}', ''))).toThrow();
});
