/** Makes elements on pages without a view library. Text from data or a reader is added as text, never as markup. */

export type Child = Node | string;

export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  className: string,
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (className) element.className = className;
  element.append(...children);
  return element;
}

export const link = (to: string, words: string): HTMLAnchorElement => {
  const anchor = make('a', '', words);
  anchor.href = to;
  return anchor;
};

export function makeSvg(tag: string, attributes: Record<string, string | number>, text = ''): SVGElement {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  element.textContent = text;
  return element;
}
