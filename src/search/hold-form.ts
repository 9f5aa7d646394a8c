/** On a measuring page: a number typed there is compared with the criteria, and shown on the scale. */

import { convert, convertible, isUnit, units } from '../../calculators/quantity.ts';
import { base } from '../browser/base.ts';
import { staff } from '../components/gauge-layout.ts';
import { personChanged, readPerson } from '../person/store.ts';
import { answerView, warmAnswers } from './answer.ts';

export async function holdOnPage(form: HTMLFormElement): Promise<void> {
  const field = form.querySelector('input');
  const name = form.dataset.measure ?? '';
  const place = form.nextElementSibling;
  if (!field || !(place instanceof HTMLElement)) return;
  const answers = await warmAnswers(base);
  const show = () => {
    const asked =
      field.value.trim() === '' ? undefined : (answers.read(`${name} ${field.value}`) ?? answers.read(field.value));
    place.replaceChildren();
    point(asked?.kind === 'reading' ? asked : undefined);
    if (!asked) {
      if (field.value.trim() !== '') place.textContent = 'Type a number, with its unit where more than one is in use';
      return;
    }
    place.append(
      answerView(asked, readPerson(), answers, base, (meaning) =>
        point(meaning.kind === 'reading' ? meaning : undefined),
      ),
    );
  };
  // Spoken once, when typing has paused: what was understood and how many criteria it meets. The list is there to be read.
  const status = place.nextElementSibling;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  const tell = () => {
    clearTimeout(quiet);
    quiet = setTimeout(() => {
      const heads = [...place.querySelectorAll('h2, h3')].map(({ textContent }) => textContent);
      const said = heads.length > 0 ? heads.join('. ') : place.textContent;
      if (status && status.textContent !== said) status.textContent = said;
    }, 700);
  };
  new MutationObserver(tell).observe(place, { childList: true });
  let timer: ReturnType<typeof setTimeout> | undefined;
  field.addEventListener('input', () => {
    clearTimeout(timer);
    timer = setTimeout(show, 150);
  });
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    clearTimeout(timer);
    show();
  });
  addEventListener(personChanged, (event) => {
    if (!(event instanceof CustomEvent) || event.detail !== 'next') return;
    field.value = '';
    show();
  });
  if (field.value) show();
}

/** The pointer on every gauge of this measure: a wedge at the reading, with its figure. */
function point(asked: { measure: string; reading: { value: number; unit: string } } | undefined): void {
  for (const gauge of document.querySelectorAll<SVGSVGElement>('[data-gauge]')) {
    const pointer = gauge.querySelector('[data-pointer]');
    pointer?.replaceChildren();
    const { gauge: measure, unit = '', low = '', high = '', top = '', bottom = '' } = gauge.dataset;
    if (
      !pointer ||
      asked === undefined ||
      measure !== asked.measure ||
      !isUnit(unit) ||
      !isUnit(asked.reading.unit) ||
      !convertible(asked.reading.unit, unit)
    )
      continue;
    const value = convert(asked.reading.value, asked.reading.unit, unit);
    const share = (value - Number(low)) / (Number(high) - Number(low));
    const y = Number(bottom) - Math.min(1.04, Math.max(-0.04, share)) * (Number(bottom) - Number(top));
    const make = (tag: string, attributes: Record<string, string>) => {
      const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
      for (const [key, told] of Object.entries(attributes)) element.setAttribute(key, told);
      return element;
    };
    const figure = make('text', { x: '2', y: String(y - 8), class: 'reading' });
    figure.textContent = `${Number(value.toPrecision(4))} ${units[unit].symbol}`;
    pointer.append(
      make('path', { d: `M${staff - 4} ${y}l-14 -7v14z`, class: 'reading' }),
      make('path', { d: `M2 ${y}H${staff - 18}`, class: 'reading-line' }),
      figure,
    );
  }
}
