/** Three parts of about the same size; what belongs to neither named folder is in the third, so no page is left out. */
export const partOf = (page: string): 'calculators' | 'sources' | 'others' =>
  /^\/calculators\//.test(page) ? 'calculators' : /^\/sources\//.test(page) ? 'sources' : 'others';
