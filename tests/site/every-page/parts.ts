/** Parts of about the same size, so that no worker waits for another; what no folder is named for is in the last, so no page is left out. */
const named = ['calculators', 'sources', 'decisions', 'home', 'breathing'] as const;
export type Part = 'calculators' | 'sources' | 'decisions' | 'others';

export function partOf(page: string): Part {
  const folder = named.find((one) => page.startsWith(`/${one}/`));
  if (folder === 'home' || folder === 'breathing') return 'decisions';
  return folder ?? 'others';
}
