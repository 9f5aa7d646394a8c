/**
 * A field that leads to the search page hands over what was typed in the tab's storage. Where the browser refuses that, or
 * the part that does it does not come, it goes after '#': that part of an address reaches no server. A form that answers in
 * place prevents this first; where its part for that is still on its way (`data-here`), it answers once that has come.
 */
addEventListener('submit', (event) => {
  const form = event.target;
  if (event.defaultPrevented || !(form instanceof HTMLFormElement) || !form.matches('.find')) return;
  event.preventDefault();
  const line = [form.dataset.measure, form.querySelector('input')?.value].filter(Boolean).join(' ');
  if (form.dataset.here === undefined) return leaveWith(line, form.action);
  form.dataset.here = 'entered';
  form.querySelector('input')?.blur();
});

/** To the search page, with the line. */
function leaveWith(line: string, page: string): void {
  const inAddress = () => `${page}#q=${encodeURIComponent(line)}`;
  import('./typed-line.ts')
    .then(({ handOver }) => (handOver(line) ? page : inAddress()), inAddress)
    .then((address) => {
      location.href = address;
    });
}
