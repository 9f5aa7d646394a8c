/**
 * A field that leads to the search page hands over what was typed in the tab's storage. Where the browser refuses that, or
 * the part that does it does not come, it goes after '#': that part of an address reaches no server. A form that answers in
 * place prevents this first.
 */
addEventListener('submit', (event) => {
  const form = event.target;
  if (event.defaultPrevented || !(form instanceof HTMLFormElement) || !form.matches('.find')) return;
  event.preventDefault();
  const line = [form.dataset.measure, form.querySelector('input')?.value].filter(Boolean).join(' ');
  const inAddress = () => `${form.action}#q=${encodeURIComponent(line)}`;
  import('./typed-line.ts')
    .then(({ handOver }) => (handOver(line) ? form.action : inAddress()), inAddress)
    .then((address) => {
      location.href = address;
    });
});
