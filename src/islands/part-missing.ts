/** Parts of a page that are fetched when they are needed may not come: no signal, and no offline copy yet. */
export const partMissing =
  'Part of this page did not load, and nothing was changed. Reload the page when you are online; what you typed is kept.';
