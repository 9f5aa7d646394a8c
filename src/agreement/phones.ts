/** On urgent pages: the clinic's own phone numbers. Waits for nothing but the agreement itself. */
import type { Agreement } from '../../calculators/criteria/agreement.ts';
import { link, make } from '../dom.ts';
import { agreementChanged, isOn, kept } from './store.ts';
import { telephone } from './telephone.ts';

async function fill() {
  const place = document.querySelector<HTMLElement>('[data-phones]');
  const agreement: Agreement | undefined = isOn()
    ? (kept()?.agreement ?? (await (await fetch(`${document.body.dataset.base ?? '/'}data/clinic.json`)).json()))
    : undefined;
  const phones = agreement?.phones ?? [];
  if (!place) return;
  place.hidden = phones.length === 0;
  place.replaceChildren(
    make('h2', '', 'Whom to ring'),
    make('p', '', `Agreed by ${agreement?.clinic}, ${agreement?.agreed}. In an emergency, the emergency number first.`),
    make('ul', 'list', ...phones.map(phoneView)),
  );
}

/** A target for a thumb: the whole line rings. */
function phoneView({ label, number }: Agreement['phones'][number]): HTMLElement {
  const ring = link(telephone(number), label);
  ring.append(make('small', '', number));
  return make('li', '', ring);
}

addEventListener(agreementChanged, () => void fill());
void fill();
