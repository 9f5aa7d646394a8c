/** A typed oxygen flow: what must be known first, then what is published for it, as its calculator answers. */

import type { ResultTable, ResultValue } from '../../calculators/outcome.ts';
import oxygenFlow from '../../calculators/oxygen/oxygen-flow-to-fio2.ts';
import { show, showNumber } from '../../calculators/quantity.ts';
import type { AskedSum } from '../../calculators/query/read-query.ts';
import { link, make } from '../browser/dom.ts';

export function sumView(asked: AskedSum, base: string): Node[] {
  const outcome = oxygenFlow.calculate(asked.inputs);
  const before = make('aside', 'care', ...(oxygenFlow.before ?? []).map((text) => make('p', '', text)));
  before.setAttribute('aria-label', 'Before you use the number');
  const ways = make(
    'p',
    '',
    link(`${base}calculators/${asked.calculator}/`, 'The calculator, with this person\u2019s own breath'),
    ' \u00b7 ',
    link(`${base}oxygen/flow-to-fio2/`, 'From oxygen flow to FiO2'),
    ' \u00b7 ',
    link(`${base}urgent/`, 'Urgent help'),
  );
  if (!outcome.ok) return [before, ...outcome.problems.map(({ message }) => make('p', '', `${message}.`)), ways];
  const results = Object.entries(oxygenFlow.results).flatMap(([name, { label, decimals }]) => {
    const found = outcome.results[name];
    return found ? [make('p', 'said', `${label}: `, make('b', '', figures(found, decimals)))] : [];
  });
  const cautions = make('ul', 'small', ...outcome.cautions.map((caution) => make('li', '', caution)));
  return [before, ...results, ...outcome.tables.toReversed().map(tableView), cautions, ways];
}

function figures({ value, unit, low, high }: ResultValue, decimals: number): string {
  if (low === undefined || high === undefined) return show(value, unit, decimals);
  return `${showNumber(low, decimals)} to ${show(high, unit, decimals)}`;
}

function tableView({ caption, columns, rows }: ResultTable): HTMLElement {
  const cell = (tag: 'th' | 'td', text: string, scope = '') => {
    const element = make(tag, '', text);
    if (scope) element.setAttribute('scope', scope);
    return element;
  };
  const head = make('tr', '', ...columns.map((text) => cell('th', text, 'col')));
  const body = rows.map(({ label, cells }) =>
    make('tr', '', cell('th', label, 'row'), ...cells.map((text) => cell('td', text))),
  );
  const table = make('table', '', make('caption', '', caption), make('thead', '', head), make('tbody', '', ...body));
  return make('div', 'scroll', table);
}
