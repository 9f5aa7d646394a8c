/** Parts of a page that are fetched when they are needed may not come: no signal, and no offline copy yet. */
export const partMissing =
  'A part of this page did not load, and nothing was changed. Load the page again when there is a signal: what is typed stays.';
