/** On every page: the quiet line that says whose criteria are shown beside the published ones. */
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { versionWords } from '../../calculators/agreement/status.ts';
import { today } from '../browser/today.ts';
import { cautionsHere, countedOn } from './cautions.ts';
import { agreementChanged, isOn, kept, line, switchTo } from './store.ts';

const words = line?.querySelector('span');
const button = line?.querySelector('button');
let shown = false;
let counted = false;

type Named = Partial<Pick<Agreement, 'clinic' | 'agreed' | 'review' | 'status' | 'revision' | 'signed'>>;

function draw() {
  if (!line || !words || !button) return;
  const now = kept();
  const on = isOn();
  const { clinic, agreed = '', review = '', status, revision, signed } = (now?.agreement ?? line.dataset) as Named;
  const cautions = cautionsHere();
  // Switched off on this page, the line stays for as long as the page does: the way back is where the tap was.
  line.hidden = !on && !shown && !now?.unreadable;
  words.textContent = now?.unreadable
    ? 'The agreement kept on this device does not fit this version of the site: open its file again.'
    : on
      ? `Shown beside the published criteria: ${clinic}, ${versionWords({ agreed, status, revision, signed })}${review < today() ? '' : `, review due ${review}`}.`
      : 'Clinic agreement switched off: published criteria only.';
  line.classList.toggle('care', cautions.length > 0);
  if (cautions.length > 0) {
    const strong = document.createElement('strong');
    strong.textContent = ` ${cautions.join(' ')}`;
    words.append(strong);
  }
  button.hidden = now?.unreadable === true;
  button.textContent = on ? 'Switch off' : 'Switch on again';
  button.onclick = () => {
    // Read out when it changes under the reader's hand, not anew on every page.
    words.setAttribute('role', 'status');
    switchTo(!on);
  };
  shown ||= on;
  if (on && now?.agreement && now.changed?.on !== countedOn() && !counted) {
    counted = true;
    // Without a signal and not saved yet, the next page tries again.
    void import('./recount.ts').then(({ recount }) => recount()).catch(() => undefined);
  }
}

addEventListener(agreementChanged, draw);
addEventListener('pageshow', (event) => event.persisted && draw());
draw();
