/** Styles of a part that is loaded late. In the page's own style sheet every calculator would load them. */
export function wear(css: string): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(css);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
