/**
 * A field that leads to the search page hands over what was typed after '#': that part of an address never leaves the
 * device. A form that answers in place prevents this first.
 */
addEventListener('submit', (event) => {
  const form = event.target;
  if (event.defaultPrevented || !(form instanceof HTMLFormElement) || !form.matches('.find')) return;
  event.preventDefault();
  const line = [form.dataset.measure, form.querySelector('input')?.value].filter(Boolean).join(' ');
  location.href = `${form.action}#q=${encodeURIComponent(line)}`;
});
