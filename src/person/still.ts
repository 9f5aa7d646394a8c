/** Nothing under a thumb may move: the tap that brings this line up, or takes it away, must still land where it was aimed. */
export function still(change: () => void): void {
  const top = () => document.querySelector('main')?.getBoundingClientRect().top ?? 0;
  const before = top();
  change();
  scrollBy(0, top() - before);
}
