/**
 * The name that Astro gives each island is made from the folder the site was built in, and nothing reads it. Without it
 * whoever builds the same commit gets the same bytes (tests/deep/same-bytes.test.ts).
 */
import { everyPage } from './every-page.ts';

export const sameAnywhere = () =>
  everyPage('same-anywhere', (html) => html.replace(/<astro-island uid="[^"]*"/g, '<astro-island'));
