/** Styles that come with a part loaded late. Built into the page's own sheet they would weigh on every calculator. */
export function wear(css: string): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(css);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
