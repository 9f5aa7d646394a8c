/**
 * A typed reading, answered at once: the marks it crosses, by whose rule, and what was taken for granted. Plain DOM: the
 * text of data and of the reader goes in as text, never as markup.
 */

import { diseaseNames, diseaseShort } from '../../calculators/criteria/diseases.ts';
import type { Evidence } from '../../calculators/criteria/evaluate.ts';
import { explain } from '../../calculators/criteria/explain.ts';
import { type Held, holdReading } from '../../calculators/criteria/hold.ts';
import type { Person } from '../../calculators/criteria/person.ts';
import { type AskedReading, type Query, readQuery, termsOf } from '../../calculators/criteria/read-query.ts';
import { comparison, readingWords } from '../../calculators/criteria/say.ts';
import { standingWords } from '../../calculators/standing.ts';
import { type EvidenceData, toEvidence } from '../islands/visit/evidence-data.ts';

export interface Answers {
  read: (line: string) => Query;
  evidence: Evidence;
  data: EvidenceData;
}

let loading: Promise<Answers> | undefined;

/** Fetch the marks ahead of the first reading. */
export function warmAnswers(base: string): Promise<Answers> {
  loading ??= fetch(`${base}data/marks.json`)
    .then((response) => response.json())
    .then((data: EvidenceData) => {
      const terms = termsOf(data.measures);
      return { data, evidence: toEvidence(data), read: (line: string) => readQuery(line, data.measures, terms) };
    });
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

type Child = Node | string;
function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  className: string,
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (className) element.className = className;
  element.append(...children);
  return element;
}

const link = (to: string, words: string): HTMLAnchorElement => {
  const anchor = make('a', '', words);
  anchor.href = to;
  return anchor;
};

/** @param choose  called with the line to search when the reader picks one of several meanings */
export function answerView(
  query: NonNullable<Query>,
  person: Person,
  { evidence, data }: Answers,
  base: string,
  choose: (option: AskedReading) => void,
): HTMLElement {
  if (query.kind === 'ask') {
    const choices = query.options.map((option) => {
      const measure = data.measures[option.measure];
      const button = make(
        'button',
        '',
        measure ? `${measure.short} ${readingWords(option.reading, measure)}` : option.measure,
      );
      button.type = 'button';
      button.addEventListener('click', () => choose(option));
      return button;
    });
    return make('div', 'entry', make('p', '', 'Which is meant?'), ...choices);
  }
  return readingView(query, person, evidence, data, base);
}

function readingView(
  asked: AskedReading,
  inHand: Person,
  evidence: Evidence,
  data: EvidenceData,
  base: string,
): HTMLElement {
  const measure = data.measures[asked.measure];
  if (!measure) return make('div', '');
  const person: Person = { ...inHand, ...asked.person };
  // Adult marks and children's never mix: with no age known the reader is told which were taken.
  const assumesAdult = person.ageYears === undefined;
  const held = holdReading(asked.measure, asked.reading, assumesAdult ? { ...person, ageYears: 18 } : person, evidence);
  const assumed = [
    ...asked.assumed,
    assumesAdult ? 'an adult' : `${person.ageYears} years`,
    person.disease ? diseaseNames[person.disease] : 'disease not given: each mark names its own',
  ];
  const view = make('section', 'instant');
  const title = make('h2', '', `${measure.short} ${readingWords(asked.reading, measure)}`);
  view.append(title, make('p', 'small', `Assumed: ${assumed.join('; ')}.`));
  const lead = held.crossed.filter(({ shelf }) => shelf === 'acted');
  const rest = held.crossed.filter(({ shelf }) => shelf !== 'acted');
  const notCrossed = held.notCrossed.filter(({ shelf }) => shelf === 'acted' || shelf === 'background');
  const list = (entries: Held[]) =>
    make('ul', 'findings', ...entries.map((entry) => item(entry, person, evidence, data, base)));
  const fold = (words: string, entries: Held[], className = '') => {
    if (entries.length === 0) return;
    view.append(make('details', className, make('summary', '', `${words} (${entries.length})`), list(entries)));
  };
  view.append(make('h3', '', lead.length === 0 ? 'Crosses no checked start or refer mark' : `Crosses ${lead.length}`));
  if (lead.length === 0)
    view.append(make('p', '', 'That is not reassurance: marks on other readings and signs may be crossed.'));
  view.append(list(lead));
  fold(
    'Cannot tell',
    held.cannotTell.filter(({ shelf }) => shelf === 'acted' || shelf === 'background'),
  );
  fold('Not crossed', notCrossed);
  fold(
    'Background figures crossed',
    rest.filter(({ shelf }) => shelf === 'background'),
  );
  fold(
    'Unchecked marks crossed: read the source before relying on it',
    rest.filter(({ shelf }) => shelf === 'unchecked'),
    'unread',
  );
  fold(
    'Replaced editions crossed',
    rest.filter(({ shelf }) => shelf === 'replaced'),
  );
  const ways = make('p', '');
  if (measure.page) ways.append(link(base + measure.page.slice(1), 'All its marks, and how to measure it'), ' \u00b7 ');
  ways.append(link(`${base}visit/`, 'Visit sheet'), ' \u00b7 ', link(`${base}urgent/`, 'Urgent help'));
  view.append(ways);
  return view;
}

function item(
  { finding, part, open }: Held,
  person: Person,
  evidence: Evidence,
  data: EvidenceData,
  base: string,
): HTMLElement {
  const { criterion } = finding;
  const measure = evidence.measures[part.measure];
  const where = link(
    `${base}sources/${criterion.source}/#${criterion.id}`,
    data.sources[criterion.source] ?? criterion.source,
  );
  const needs = open
    .filter((id) => id !== 'age' && id !== 'disease' && id !== 'sex')
    .map((id) => evidence.measures[id]?.short ?? id);
  const whose = [
    person.disease === undefined && criterion.disease !== 'any' ? `in ${diseaseShort[criterion.disease]}` : '',
    person.sex === undefined && criterion.sex ? (criterion.sex === 'male' ? 'men' : 'women') : '',
    criterion.use === 'coverage' ? 'payer rule, not clinical need' : '',
    criterion.acute ? 'acute illness' : '',
  ].filter(Boolean);
  const told =
    part.truth === 'cannot-tell'
      ? explain({ ...finding, result: 'cannot-tell', parts: [part] }, evidence.measures)
      : comparison(part.condition, measure);
  const line = make('p', 'said', make('b', '', told), whose.length > 0 ? ` ${whose.join(', ')}` : '');
  const by = make('p', 'small', where, `, ${standingWords[criterion.standing]}.`);
  if (needs.length > 0 && part.truth === 'met') by.append(` Also asks: ${needs.join('; ')}.`);
  return make('li', `finding ${part.truth}`, line, by);
}
