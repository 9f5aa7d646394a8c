/** On every page: the quiet line that says whose criteria are shown beside the published ones. */
import { today } from '../browser/today.ts';
import { agreementChanged, isOn, kept, line, switchTo } from './store.ts';

const words = line?.querySelector('span');
const button = line?.querySelector('button');
let shown = false;

function draw() {
  if (!line || !words || !button) return;
  const now = kept();
  const on = isOn();
  const { clinic, agreed, review = '' } = now?.agreement ?? line.dataset;
  // Switched off on this page, the line stays for as long as the page does: the way back is where the tap was.
  line.hidden = !on && !shown && !now?.unreadable;
  words.textContent = now?.unreadable
    ? 'The agreement kept on this device does not fit this version of the site: open its file again.'
    : on
      ? `Shown beside the published criteria: ${clinic}, agreed ${agreed}, review ${review < today() ? 'was ' : ''}due ${review}.`
      : 'Clinic agreement switched off: published criteria only.';
  button.hidden = now?.unreadable === true;
  button.textContent = on ? 'Switch off' : 'Switch on again';
  button.onclick = () => {
    // Read out when it changes under the reader's hand, not anew on every page.
    words.setAttribute('role', 'status');
    switchTo(!on);
  };
  shown ||= on;
}

addEventListener(agreementChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
