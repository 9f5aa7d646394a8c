/** A question with its answers as buttons. */
import { make } from '../browser/dom.ts';

export function choice<T>(
  question: string,
  options: readonly (readonly [string, T])[],
  pick: (option: T, box: HTMLElement) => void,
): HTMLElement {
  const box = make('div', 'entry choice', make('p', '', question));
  box.setAttribute('role', 'group');
  box.setAttribute('aria-label', question);
  for (const [words, option] of options) {
    const button = make('button', '', words);
    button.type = 'button';
    button.addEventListener('click', () => pick(option, box));
    box.append(button);
  }
  return box;
}

/** The button that was pressed goes with its box: a keyboard goes on from the answer. */
export function replace(old: HTMLElement, view: HTMLElement): void {
  old.replaceWith(view);
  view.tabIndex = -1;
  view.focus();
}
