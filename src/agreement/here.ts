/**
 * A page's places for the agreement in force: its marks beside the published ones, its notch on each gauge, and its
 * waiting times on decision pages. All of it goes in as text.
 */

import type { AgreedCriterion, Agreement } from '../../calculators/agreement/agreement.ts';
import {
  agreedBy,
  criterionWords,
  departureWords,
  notchWords,
  originWords,
  peopleWords,
  readWords,
  spanWords,
} from '../../calculators/agreement/agreement-words.ts';
import { agreementLine } from '../../calculators/agreement/digest.ts';
import { agreedCriteriaFor, departureOf } from '../../calculators/agreement/local-criteria.ts';
import type { Disease } from '../../calculators/domain/diseases.ts';
import { convert, isUnit } from '../../calculators/quantity.ts';
import { base } from '../browser/base.ts';
import { make, makeSvg } from '../browser/dom.ts';
import { notchesOf } from '../components/gauge-layout.ts';
import { editionHere } from './digest.ts';
import { inForce } from './in-force.ts';
import { type PublishedHere, published } from './published.ts';
import { digestHere } from './store.ts';

let latest = 0;

export async function show(): Promise<void> {
  latest += 1;
  const mine = latest;
  const agreement = await inForce();
  const evidence = agreement && (await published(base));
  if (mine !== latest) return;
  for (const place of document.querySelectorAll<HTMLElement>('[data-local]')) {
    const view = agreement && evidence && views[place.dataset.local ?? '']?.(place, agreement, evidence);
    place.replaceChildren(...(view ?? []));
    place.hidden = view === undefined;
  }
  for (const gauge of document.querySelectorAll<SVGSVGElement>('[data-gauge]')) notch(gauge, agreement, evidence);
}

const views: Record<
  string,
  (place: HTMLElement, agreement: Agreement, evidence: PublishedHere) => HTMLElement[] | undefined
> = { marks: marksView, waits: waitsView, line: lineView };

/** The marks that belong on a place of a page: those that may be shown for its disease, about its measure and decision. */
function marksAt(
  { measure, decision, disease }: DOMStringMap,
  agreement: Agreement,
  evidence: PublishedHere,
): AgreedCriterion[] {
  return agreedCriteriaFor({ disease: disease as Disease | undefined }, agreement, evidence).filter(
    (mark) =>
      (measure === undefined || mark.measure === measure || mark.rule?.alternative?.measure === measure) &&
      (decision === undefined || mark.decision === decision),
  );
}

function marksView(place: HTMLElement, agreement: Agreement, evidence: PublishedHere): HTMLElement[] | undefined {
  const marks = marksAt(place.dataset, agreement, evidence);
  if (marks.length === 0) return undefined;
  return [
    make(
      'p',
      'local-by',
      make('strong', '', agreedBy(agreement)),
      '. Beside the published marks, never instead of them.',
    ),
    ...marks.map((mark) => markView(mark, evidence)),
  ];
}

function markView(mark: AgreedCriterion, evidence: PublishedHere): HTMLElement {
  const departs = departureOf(mark, evidence);
  const summary = make('summary', '', make('b', '', criterionWords(mark, evidence.measures)));
  summary.append(
    make('span', 'by', `${evidence.decisions[mark.decision]?.title ?? mark.decision} \u00b7 ${peopleWords(mark)}`),
  );
  if (departs)
    summary.append(make('span', 'also departs', `${departureWords[departs]} (${spanWords(mark, evidence)})`));
  const more = make(
    'div',
    'more',
    make('p', '', `${originWords(mark, evidence, (id) => evidence.data.sources[id] ?? id)}.`),
  );
  if (mark.reason) more.append(make('p', '', `Reason: ${mark.reason}`));
  if (mark.read) more.append(make('p', 'small', `The number was ${readWords(mark)}.`));
  return make('details', 'mark', summary, more);
}

function waitsView(_: HTMLElement, agreement: Agreement): HTMLElement[] | undefined {
  if (agreement.waits.length === 0) return undefined;
  const items = agreement.waits.map(({ what, weeks }) =>
    make('li', '', `${what}: ${weeks} ${weeks === 1 ? 'week' : 'weeks'}`),
  );
  return [make('h2', '', 'Usual waits here'), make('p', 'small', `${agreedBy(agreement)}.`), make('ul', '', ...items)];
}

/** On paper that shows any of its marks: which text of the agreement, and which handbook. It comes after them in the page. */
function lineView(_: HTMLElement, agreement: Agreement): HTMLElement[] | undefined {
  if (document.querySelector('[data-local="marks"]:not([hidden])') === null) return undefined;
  return [make('p', 'small', agreementLine(agreement, digestHere(), editionHere()))];
}

/** The notch on a gauge: cut into the staff, with a word and its figure beside it. */
function notch(gauge: SVGSVGElement, agreement: Agreement | undefined, evidence: PublishedHere | undefined): void {
  const place = gauge.querySelector('[data-notch]');
  if (!place) return;
  place.replaceChildren();
  const { gauge: measure = '', unit = '', disease, low, high, top, bottom } = gauge.dataset;
  if (!isUnit(unit)) return;
  const marks = agreement && evidence ? marksAt({ disease }, agreement, evidence) : [];
  const values = marks.flatMap((mark) =>
    mark.measure === measure && mark.value !== undefined && mark.unit !== undefined
      ? [{ value: convert(mark.value, mark.unit, unit), words: notchWords(mark, unit) }]
      : [],
  );
  const scale = { low: Number(low), high: Number(high), top: Number(top), bottom: Number(bottom) };
  for (const { cut, edge, label } of notchesOf(values, scale)) {
    place.append(makeSvg('path', { d: cut, class: 'notch-cut' }), makeSvg('path', { d: edge, class: 'notch' }));
    for (const { x, y, words } of label) place.append(makeSvg('text', { x, y, class: 'notch-word' }, words));
  }
  const title =
    values.length > 0 && agreement ? `${agreedBy(agreement)}: ${values.map(({ words }) => words).join(', ')}` : '';
  const spoken = gauge.dataset.spoken ?? gauge.getAttribute('aria-label') ?? '';
  gauge.dataset.spoken = spoken;
  gauge.setAttribute('aria-label', title === '' ? spoken : `${spoken}. ${title}`);
}
