/**
 * A link to a place inside a fold opens it. Current browsers do so themselves, as they do for their own find; older ones get it
 * from here.
 */
function open(): void {
  const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  let closed = false;
  for (let fold = target?.closest('details'); fold; fold = fold.parentElement?.closest('details')) {
    closed ||= !fold.open;
    fold.open = true;
  }
  if (closed) target?.scrollIntoView();
}
addEventListener('hashchange', open);
open();
