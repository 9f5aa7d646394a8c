/**
 * What a component without state of its own puts on the page, as plain elements: enough to ask what is on screen, and
 * under which heading, without a browser.
 */
import { type ComponentChild, isValidElement, type VNode } from 'preact';

export interface Element {
  tag: string;
  classes: string[];
  children: (Element | string)[];
}

export function rendered(node: ComponentChild): (Element | string)[] {
  if (Array.isArray(node)) return node.flatMap(rendered);
  if (typeof node === 'string' || typeof node === 'number') return [String(node)];
  if (!isValidElement(node)) return [];
  const { type, props } = node as VNode<{ children?: ComponentChild; class?: string }>;
  if (typeof type === 'function') return rendered((type as (given: unknown) => ComponentChild)(props));
  const children = rendered(props.children);
  if (typeof type !== 'string') return children;
  return [{ tag: type, classes: (props.class ?? '').split(' '), children }];
}

export const textOf = (node: Element | string | readonly (Element | string)[]): string => {
  if (typeof node === 'string') return node;
  const text = (Array.isArray(node) ? node : (node as Element).children).map(textOf);
  return text.join('').replace(/\s+/g, ' ');
};

/** Every element that fits, however deep. */
export const every = (nodes: readonly (Element | string)[], fits: (one: Element) => boolean): Element[] =>
  nodes.flatMap((node) =>
    typeof node === 'string' ? [] : [...(fits(node) ? [node] : []), ...every(node.children, fits)],
  );
