/**
 * A page's places for the agreement in force: its criteria beside the published ones, its notch on each scale, and its
 * waiting times on decision pages. All of it goes in as text.
 */

import type { AgreedCriterion, Agreement } from '../../calculators/agreement/agreement.ts';
import {
  agreedBy,
  departureWords,
  notchWords,
  originWords,
  readWords,
  spanWords,
} from '../../calculators/agreement/agreement-words.ts';
import { criterionWords, peopleWords } from '../../calculators/agreement/criterion-words.ts';
import { agreementLine } from '../../calculators/agreement/digest.ts';
import { agreedCriteriaFor, departureOf } from '../../calculators/agreement/local-criteria.ts';
import type { Disease } from '../../calculators/domain/diseases.ts';
import { convert, isUnit } from '../../calculators/quantity.ts';
import { base } from '../browser/base.ts';
import { make, makeSvg } from '../browser/dom.ts';
import { notchesOf } from '../components/gauge-layout.ts';
import { editionHere } from './edition.ts';
import { inForce } from './in-force.ts';
import { type PublishedHere, published } from './published.ts';
import { recount } from './recount.ts';
import { digestHere } from './store.ts';

const agreedByIt = ({ clinic, agreed, status }: Agreement): string =>
  agreedBy({ clinic, agreed, ...(status === 'draft' ? { draft: true as const } : {}) });

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
  if (evidence) void recount(evidence);
  for (const gauge of document.querySelectorAll<SVGSVGElement>('[data-gauge]')) notch(gauge, agreement, evidence);
}

const views: Record<
  string,
  (place: HTMLElement, agreement: Agreement, evidence: PublishedHere) => HTMLElement[] | undefined
> = { criteria: criteriaView, waits: waitsView, line: lineView };

/** The criteria that belong on a place of a page: those that may be shown for its disease, about its measure and decision. */
function criteriaAt(
  { measure, decision, disease }: DOMStringMap,
  agreement: Agreement,
  evidence: PublishedHere,
): AgreedCriterion[] {
  return agreedCriteriaFor({ disease: disease as Disease | undefined }, agreement, evidence).filter(
    (criterion) =>
      (measure === undefined || criterion.measure === measure || criterion.rule?.alternative?.measure === measure) &&
      (decision === undefined || criterion.decision === decision),
  );
}

function criteriaView(place: HTMLElement, agreement: Agreement, evidence: PublishedHere): HTMLElement[] | undefined {
  const criteria = criteriaAt(place.dataset, agreement, evidence);
  if (criteria.length === 0) return undefined;
  return [
    make(
      'p',
      'local-by',
      make('strong', '', agreedByIt(agreement)),
      '. They are shown beside the published criteria, never instead of them.',
    ),
    ...criteria.map((criterion) => criterionView(criterion, evidence)),
  ];
}

function criterionView(criterion: AgreedCriterion, evidence: PublishedHere): HTMLElement {
  const departs = departureOf(criterion, evidence);
  const summary = make('summary', '', make('b', '', criterionWords(criterion, evidence.measures)));
  summary.append(
    make(
      'span',
      'by',
      `${evidence.decisions[criterion.decision]?.title ?? criterion.decision} \u00b7 ${peopleWords(criterion)}`,
    ),
  );
  if (departs)
    summary.append(make('span', 'also departs', `${departureWords[departs]} (${spanWords(criterion, evidence)})`));
  const more = make(
    'div',
    'more',
    make('p', '', `${originWords(criterion, evidence, (id) => evidence.data.sources[id] ?? id)}.`),
  );
  if (criterion.reason) more.append(make('p', '', `Reason: ${criterion.reason}`));
  if (criterion.read) more.append(make('p', 'small', `The number was ${readWords(criterion)}.`));
  return make('details', 'mark', summary, more);
}

function waitsView(_: HTMLElement, agreement: Agreement): HTMLElement[] | undefined {
  if (agreement.waits.length === 0) return undefined;
  const items = agreement.waits.map(({ what, weeks }) =>
    make('li', '', `${what}: ${weeks} ${weeks === 1 ? 'week' : 'weeks'}`),
  );
  return [
    make('h2', '', 'Usual waits here'),
    make('p', 'small', `${agreedByIt(agreement)}.`),
    make('ul', '', ...items),
  ];
}

/** On paper that shows any of its criteria: which text of the agreement, and which handbook. It comes after them in the page. */
function lineView(_: HTMLElement, agreement: Agreement): HTMLElement[] | undefined {
  if (document.querySelector('[data-local="criteria"]:not([hidden])') === null) return undefined;
  return [make('p', 'small', agreementLine(agreement, digestHere(), editionHere()))];
}

/** The notch on a scale: cut into the scale, with a word and its figure beside it. */
function notch(gauge: SVGSVGElement, agreement: Agreement | undefined, evidence: PublishedHere | undefined): void {
  const place = gauge.querySelector('[data-notch]');
  if (!place) return;
  place.replaceChildren();
  const { gauge: measure = '', unit = '', disease, low, high, top, bottom, letters = '' } = gauge.dataset;
  if (!isUnit(unit)) return;
  const criteria = agreement && evidence ? criteriaAt({ disease }, agreement, evidence) : [];
  const values = criteria.flatMap((criterion) =>
    criterion.measure === measure && criterion.value !== undefined && criterion.unit !== undefined
      ? [{ value: convert(criterion.value, criterion.unit, unit), words: notchWords(criterion, unit) }]
      : [],
  );
  const scale = { low: Number(low), high: Number(high), top: Number(top), bottom: Number(bottom) };
  for (const { cut, edge, label } of notchesOf(values, scale, letters.split(' ').filter(Boolean).map(Number))) {
    place.append(makeSvg('path', { d: cut, class: 'notch-cut' }), makeSvg('path', { d: edge, class: 'notch' }));
    for (const { x, y, words } of label) place.append(makeSvg('text', { x, y, class: 'notch-word' }, words));
  }
  const title =
    values.length > 0 && agreement ? `${agreedByIt(agreement)}: ${values.map(({ words }) => words).join(', ')}` : '';
  const spoken = gauge.dataset.spoken ?? gauge.getAttribute('aria-label') ?? '';
  gauge.dataset.spoken = spoken;
  gauge.setAttribute('aria-label', title === '' ? spoken : `${spoken}. ${title}`);
}
