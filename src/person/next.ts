/**
 * 'Next person': asks where something was entered, says what is cleared, and can bring it back for five minutes. The copy
 * is in this page's memory alone, and is dropped as soon as anything is entered for someone else: two people never mix.
 */
import { make } from '../browser/dom.ts';
import { clearKept } from '../islands/visit/on-device.ts';
import { type Copy, copyOfPerson, enteredInWords, storeAgain, visitsSavedOnDevice } from './in-hand.ts';
import { emptySearchLines, fillFields } from './page-fields.ts';
import { still } from './still.ts';
import { isAnythingStored, nextPerson, personChanged } from './store.ts';
import { tellOtherTabs } from './tabs.ts';
import { personWords } from './words.ts';

const minutes = 5;
/**
 * Looks that no page needs before it asks. The question lies over the page, so that nothing under a thumb moves; it is set
 * on the elements, since a page's security policy takes no style sheet from a script.
 */
const over = `position: absolute; inset: 100% 0 auto; max-height: 70vh; overflow: auto; margin: 0;
  padding-inline: var(--edge-in); font-weight: 400; border-bottom: 2px solid var(--care)`;
const apart = 'margin: 0 0.6rem 0.5rem 0';

interface Question {
  panel: HTMLElement;
  from: HTMLElement;
}
interface Offer {
  place: HTMLElement;
  /** the button that it replaces in the line at the top */
  button: HTMLElement;
  copy: Copy;
  until: number;
}
let question: Question | undefined;
let offer: Offer | undefined;
let status: HTMLElement | undefined;

/** Names the person in the line at the top. The text that the page came with stays until something is stored. */
export function nameIn(strip: HTMLElement): void {
  const words = strip.querySelector('span');
  if (words && isAnythingStored())
    still(() => {
      words.hidden = false;
      words.replaceChildren(personWords());
    });
}

/** @param from  the button that was pressed: the focus goes back to it when nothing is cleared */
export function askNext(from: HTMLElement): void {
  listen();
  const entered = enteredInWords();
  const saved = visitsSavedOnDevice();
  if (entered.length === 0 && !saved) {
    clear(from);
    return;
  }
  closeQuestion();
  const keep = button('main', 'Keep this person', () => {
    closeQuestion();
    from.focus();
  });
  const savedToo = make('input', '');
  savedToo.type = 'checkbox';
  const panel = make(
    'div',
    'care',
    withId(make('p', '', make('b', '', 'Clear this person and start the next?')), 'next-asked'),
    withId(
      make(
        'div',
        '',
        ...(entered.length > 0 ? whatGoes(entered) : [make('p', '', 'Nothing is entered on this page.')]),
        make('p', '', 'Other open tabs of this site are cleared too.'),
      ),
      'next-clears',
    ),
    ...(saved
      ? [
          make(
            'p',
            '',
            make('label', '', savedToo, ' Clear the visits kept on this device too. This cannot be undone.'),
          ),
        ]
      : []),
    make(
      'div',
      '',
      keep,
      button('clears', 'Clear and start the next person', () => {
        if (savedToo.checked) clearKept();
        clear(from);
      }),
    ),
  );
  panel.style.cssText = over;
  panel.setAttribute('role', 'alertdialog');
  panel.setAttribute('aria-labelledby', 'next-asked');
  panel.setAttribute('aria-describedby', 'next-clears');
  panel.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') keep.click();
  });
  question = { panel, from };
  // A sheet with readings and no disease has not been announced in the line at the top yet.
  dispatchEvent(new CustomEvent(personChanged));
  line()?.append(panel);
  keep.focus();
}

const whatGoes = (entered: readonly string[]): HTMLElement[] => [
  make('p', '', 'This clears:'),
  make('ul', '', ...entered.map((line) => make('li', '', line))),
  make(
    'p',
    '',
    copyOfPerson()
      ? `You can undo this for ${minutes} minutes, on this page only, until you enter something else.`
      : 'It cannot be undone: this browser keeps nothing for this site.',
  ),
];

function clear(from: HTMLElement): void {
  const undoable = clearPerson();
  tellOtherTabs();
  if (!undoable) return;
  say('Everything was cleared. You can undo this in the line at the top of the page.');
  focusOn(document.querySelector<HTMLElement>('#visit-disease') ?? offer?.place.querySelector('button') ?? from);
}

/** Also when another tab says so. @returns whether it can be undone here */
export function clearPerson(): boolean {
  listen();
  closeQuestion();
  const copy = enteredInWords().length > 0 ? copyOfPerson() : undefined;
  emptySearchLines();
  if (copy) makeOffer(copy);
  nextPerson();
  return copy !== undefined;
}

function makeOffer(copy: Copy): void {
  const next = line()?.querySelector<HTMLElement>(':scope > button');
  if (!next) return;
  const at = new Date();
  const time = [at.getHours(), at.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
  const place = make(
    'div',
    'undo',
    button('', `Undo: bring back the person cleared at ${time}`, bringBack),
    make('small', '', `For ${minutes} minutes, on this page only, until you enter something.`),
  );
  place.style.cssText = 'flex: 1; font-weight: 400';
  // Nothing of the person cleared stays in view.
  const words = line()?.querySelector('span');
  words?.replaceChildren();
  if (words) words.hidden = true;
  offer = { place, button: next, copy, until: Date.now() + minutes * 60_000 };
  setTimeout(endOverdue, minutes * 60_000);
  next.replaceWith(place);
}

function bringBack(): void {
  const { copy } = offer ?? {};
  // Checked once more: something may have been entered without an event.
  if (!copy || isAnythingStored()) {
    endOffer();
    return;
  }
  endOffer(true);
  nextPerson(copy.stored);
  // The forms react to each field as if it were typed, and write the person anew. So the stored person is written back
  // at the end.
  void fillFields(copy.fields).then(() => storeAgain(copy.stored));
  say(`Brought back: ${personWords()}.`);
  focusOn(line());
}

/** @param quietly  where it was used */
function endOffer(quietly = false): void {
  if (!offer) return;
  const { place, button: next } = offer;
  const focused = place.contains(document.activeElement);
  offer = undefined;
  still(() => {
    place.replaceWith(next);
    const strip = line();
    if (strip) strip.hidden = !isAnythingStored();
  });
  if (quietly) return;
  say('The person cleared before can no longer be brought back.');
  if (focused) focusOn(document.querySelector<HTMLElement>('h1'));
}

const endOverdue = (): void => {
  if (offer && Date.now() >= offer.until) endOffer();
};

function closeQuestion(): void {
  question?.panel.remove();
  question = undefined;
}

let listening = false;
function listen(): void {
  if (listening) return;
  listening = true;
  status = make('p', 'hidden');
  status.setAttribute('role', 'status');
  document.body.append(status);
  const inMain = ({ target }: Event) => target instanceof Element && target.closest('main') !== null;
  /**
   * Something is entered, for the next person or the one being asked about: the question and the offer are out of date.
   */
  const entered = () => {
    closeQuestion();
    endOffer();
  };
  for (const typed of ['input', 'change'])
    document.addEventListener(typed, (event) => inMain(event) && entered(), true);
  document.addEventListener('click', (event) => inMain(event) && setTimeout(() => isAnythingStored() && endOffer()));
  addEventListener(personChanged, () => isAnythingStored() && endOffer());
  document.addEventListener('visibilitychange', endOverdue);
  addEventListener('pagehide', () => {
    closeQuestion();
    endOffer(true);
  });
}

const line = (): HTMLElement | null => document.querySelector('[data-person]');

function button(className: string, words: string, act: () => void): HTMLButtonElement {
  const made = make('button', className, words);
  made.type = 'button';
  made.style.cssText = apart;
  made.addEventListener('click', act);
  return made;
}

function withId<T extends HTMLElement>(element: T, id: string): T {
  element.id = id;
  return element;
}

/**
 * A screen reader announces what changes in a region: after the focus has moved, or the two would interrupt each other.
 */
const say = (words: string): void => {
  setTimeout(() => {
    if (status) status.textContent = words;
  }, 100);
};

function focusOn(element: HTMLElement | null): void {
  if (!element) return;
  if (!element.matches('a, button, input, select, textarea')) element.tabIndex = -1;
  element.focus();
}
