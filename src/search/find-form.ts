/**
 * A field that leads to the search page hands over what was typed in the tab's storage. Where the browser refuses that, it
 * goes after '#': that part of an address reaches no server. A form that answers in place prevents this first.
 */
import { handOver } from './typed-line.ts';

addEventListener('submit', (event) => {
  const form = event.target;
  if (event.defaultPrevented || !(form instanceof HTMLFormElement) || !form.matches('.find')) return;
  event.preventDefault();
  const line = [form.dataset.measure, form.querySelector('input')?.value].filter(Boolean).join(' ');
  location.href = handOver(line) ? form.action : `${form.action}#q=${encodeURIComponent(line)}`;
});
