/** Where a page has a place for the agreement in force: what it takes to fill it is fetched only when there is one. */
import { agreementChanged, isOn } from './store.ts';

let filled = false;

function fill() {
  if (!isOn() && !filled) return;
  filled = true;
  void import('./here.ts').then(({ show }) => show());
}

addEventListener(agreementChanged, fill);
fill();
