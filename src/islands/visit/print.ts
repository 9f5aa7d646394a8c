/** Print one of the sheet's papers: the others stay off the page until the printing is over. */
export function printOnly(paper: 'note' | 'card'): void {
  document.body.dataset.paper = paper;
  addEventListener('afterprint', () => delete document.body.dataset.paper, { once: true });
  print();
}
