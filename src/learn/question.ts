/** Questions on a page: check, explain, remember on this device. */
import { make } from '../browser/dom.ts';
import { answered } from './progress.ts';

/** Told to the page around it: which question, and whether the answer was right. */
export const questionAnswered = 'tidemark:question-answered';
export interface QuestionAnswered {
  id: string;
  right: boolean;
}

for (const section of document.querySelectorAll<HTMLElement>('[data-question]')) {
  const form = section.querySelector('form');
  const fields = section.querySelector('fieldset');
  const verdict = section.querySelector('.verdict');
  const reasons = section.querySelectorAll<HTMLElement>('details.answers li');
  const all = section.querySelector('details.answers');
  if (!form || !fields || !verdict || !(all instanceof HTMLDetailsElement)) continue;
  fields.disabled = false;
  section.querySelector('.waiting')?.remove();
  form.addEventListener('change', () => verdict.replaceChildren());
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const chosen = form.querySelector<HTMLInputElement>('input:checked');
    const reason = chosen && reasons[Number(chosen.value)];
    if (!reason) {
      verdict.replaceChildren(make('p', '', 'Choose an answer first.'));
      return;
    }
    const right = reason.dataset.right !== undefined;
    verdict.replaceChildren(
      make(
        'p',
        right ? 'right' : '',
        make('strong', '', right ? 'Right. ' : 'Not this one. '),
        reason.querySelector('span')?.textContent ?? '',
      ),
    );
    if (right) all.open = true;
    const id = section.dataset.question ?? '';
    answered(id, Number(chosen.value), right);
    dispatchEvent(new CustomEvent<QuestionAnswered>(questionAnswered, { detail: { id, right } }));
  });
}
