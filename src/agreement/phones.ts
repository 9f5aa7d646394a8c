/** On urgent pages: the clinic's own phone numbers. Waits for nothing: those of a built-in agreement are in the page. */
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { link, make } from '../browser/dom.ts';
import { agreementChanged, isOn, kept } from './store.ts';
import { telephone } from './telephone.ts';

const place = document.querySelector<HTMLElement>('[data-phones]');
const builtIn = [...(place?.childNodes ?? [])];

function fill() {
  const agreement = isOn() ? kept()?.agreement : undefined;
  const phones = agreement?.phones ?? [];
  const shown =
    agreement === undefined
      ? isOn()
        ? builtIn
        : []
      : phones.length === 0
        ? []
        : [
            make('h2', '', 'Whom to call'),
            make(
              'p',
              '',
              `Agreed by ${agreement.clinic}, ${agreement.agreed}. In an emergency, call the emergency number first.`,
            ),
            make('ul', 'list', ...phones.map(phoneView)),
          ];
  place?.replaceChildren(...shown);
  if (place) place.hidden = place.childElementCount === 0;
}

/** A target for a thumb: the whole line calls. */
function phoneView({ label, number }: Agreement['phones'][number]): HTMLElement {
  const call = link(telephone(number), label);
  call.append(make('small', '', number));
  return make('li', '', call);
}

addEventListener(agreementChanged, fill);
fill();
