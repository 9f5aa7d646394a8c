/**
 * On every page: the quiet line that says whose criteria are shown beside the published ones. In the care colour for
 * a draft, an overdue review and changed evidence. It does without calculators/agreement/status.ts: every page would load it.
 */
import { today } from '../browser/today.ts';
import { agreementChanged, isOn, kept, line, switchTo } from './store.ts';

const words = line?.querySelector('span');
const button = line?.querySelector('button');
let shown = false;

function draw() {
  if (!line || !words || !button) return;
  const now = kept();
  const on = isOn();
  const { clinic, agreed, review = '', status, revision } = now?.agreement ?? line.dataset;
  const changed = now?.agreement ? now.changed?.count : Number(line.dataset.changed);
  const late = review < today();
  const draft = status === 'draft';
  // Switched off on this page, the line stays for as long as the page does: the way back is where the tap was.
  line.hidden = !on && !shown && !now?.unreadable;
  words.textContent = now?.unreadable
    ? 'The agreement kept on this device does not fit this version of the site. Open its file again.'
    : on
      ? `Shown beside the published criteria: ${clinic}, ${Number(revision) > 1 ? `revision ${revision}, ` : ''}${draft ? 'DRAFT of' : 'agreed'} ${agreed}, review ${late ? 'was ' : ''}due ${review}.${changed ? ` The evidence under ${changed} of its criteria has changed.` : ''}`
      : 'The clinic agreement is switched off. Only published criteria are shown.';
  line.classList.toggle('care', on && (draft || late || !!changed));
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
