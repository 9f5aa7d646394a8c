/** Questions on a lesson's page: check, explain, remember on this device. */
import { make } from '../browser/dom.ts';
import { done } from './progress.ts';

for (const section of document.querySelectorAll<HTMLElement>('[data-question]')) {
  const form = section.querySelector('form');
  const fields = section.querySelector('fieldset');
  const verdict = section.querySelector('.verdict');
  const reasons = section.querySelectorAll('li');
  const all = section.querySelector('details');
  if (!form || !fields || !verdict || !all) continue;
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
    if (!right) return;
    all.open = true;
    done('questions', section.dataset.question ?? '');
  });
}
