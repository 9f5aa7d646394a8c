/** Keeps the page from moving while a line at the top appears or goes, so that a tap lands where it was aimed. */
export function still(change: () => void): void {
  const top = () => document.querySelector('main')?.getBoundingClientRect().top ?? 0;
  const before = top();
  change();
  scrollBy(0, top() - before);
}
