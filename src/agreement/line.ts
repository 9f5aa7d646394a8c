/** On every page: fetches the line that names the agreement in force, on a device that has one or was asked about one. */
import { agreementChanged, hasBuiltIn, kept, line } from './store.ts';

let fetched = false;

function look() {
  const now = kept();
  // The line of a built-in agreement is in the page: away with it before it is seen, where a reader switched it off.
  if (line && now?.on === false && !fetched) line.hidden = true;
  if (fetched || !(hasBuiltIn || now)) return;
  fetched = true;
  void import('./line-view.ts');
}

addEventListener(agreementChanged, look);
addEventListener('pageshow', (event) => event.persisted && look());
look();
