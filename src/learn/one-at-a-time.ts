/** Shows one question of a page at a time, in a given order, and says which one it is. */
import { type QuestionAnswered, questionAnswered } from './question.ts';

interface Round {
  /** ids of questions on the page, in the order in which they are asked */
  ids: readonly string[];
  /** how many of them have been answered before */
  from: number;
  /** whether the reader has just asked for it: then the heading takes the focus */
  focus: boolean;
  /** a first answer to the question that is shown */
  onFirst: (id: string, right: boolean) => void;
  onEnd: () => void;
}

const place = document.querySelector<HTMLElement>('[data-round]');
const title = place?.querySelector<HTMLElement>('[data-place]');
const next = place?.querySelector<HTMLButtonElement>('[data-next]');

export const questionIn = (id: string): HTMLElement | null =>
  document.querySelector(`[data-question="${CSS.escape(id)}"]`);

/** Without a round nothing is asked; the page shows every question until this has run. */
export function hideAll(): void {
  for (const section of document.querySelectorAll<HTMLElement>('[data-question]')) section.hidden = true;
  if (place) place.hidden = true;
  if (next) next.hidden = true;
  // Held back until now, so that nothing jumps.
  document.querySelector('[data-pool]')?.classList.remove('late');
}

export function ask({ ids, from, focus, onFirst, onEnd }: Round): void {
  if (!place || !title || !next) return;
  let at = from;
  let first = true;
  const stop = new AbortController();
  const show = (moves: boolean) => {
    hideAll();
    const id = ids[at];
    const section = id === undefined ? null : questionIn(id);
    if (!section) {
      stop.abort();
      onEnd();
      return;
    }
    first = true;
    // The heading stands right above its question, whichever that is.
    section.before(place);
    place.hidden = false;
    title.textContent = `Question ${at + 1} of ${ids.length}`;
    section.querySelector('form')?.reset();
    section.querySelector('.verdict')?.replaceChildren();
    section.querySelector('details.answers')?.removeAttribute('open');
    section.hidden = false;
    section.after(next);
    if (moves) title.focus();
  };
  addEventListener(
    questionAnswered,
    (event) => {
      const { id, right } = (event as CustomEvent<QuestionAnswered>).detail;
      if (id !== ids[at] || !first) return;
      first = false;
      next.textContent = at + 1 < ids.length ? 'Next question' : 'Finish';
      next.hidden = false;
      onFirst(id, right);
    },
    { signal: stop.signal },
  );
  next.addEventListener(
    'click',
    () => {
      at += 1;
      show(true);
    },
    { signal: stop.signal },
  );
  show(focus);
}
