/** Figures that a lesson can show with `<Moving id="..." />`, as the page that shows them all puts them together. */
export const movingGroups = {
  Volumes: ['predicted-volume', 'percent-and-z'],
  'Breaths and gas': ['small-breath', 'oxygen-and-breath'],
  Cough: ['cough-and-filling'],
  'Nights and months': ['night-trace', 'widening-projection'],
} as const;

export const movingIds = Object.values(movingGroups).flat();
