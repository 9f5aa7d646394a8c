/** Figures that a lesson can show with `<Moving id="..." />`, in the order of the page that shows them all. */
export const movingIds = [
  'predicted-volume',
  'percent-and-z',
  'small-breath',
  'oxygen-and-breath',
  'cough-and-filling',
  'night-trace',
  'widening-projection',
] as const;
