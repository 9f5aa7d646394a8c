/**
 * A typed reading, answered at once: the marks it crosses, by whose rule, and what was taken for granted. Plain DOM: the
 * text of data and of the reader goes in as text, never as markup.
 */

import type { Agreement } from '../../calculators/criteria/agreement.ts';
import { standingLine } from '../../calculators/criteria/agreement-words.ts';
import { diseaseNames, diseaseShort } from '../../calculators/criteria/diseases.ts';
import type { Evidence } from '../../calculators/criteria/evaluate.ts';
import { explain } from '../../calculators/criteria/explain.ts';
import { type Held, holdReading } from '../../calculators/criteria/hold.ts';
import { withLocal } from '../../calculators/criteria/local-marks.ts';
import type { Person } from '../../calculators/criteria/person.ts';
import { gasSaid } from '../../calculators/criteria/query-words.ts';
import {
  type AskedReading,
  type AskedSum,
  gasUnknown,
  type Query,
  readQuery,
  termsOf,
} from '../../calculators/criteria/read-query.ts';
import { comparison, flagWords, readingWords } from '../../calculators/criteria/say.ts';
import { standingWords } from '../../calculators/standing.ts';
import { inForce } from '../agreement/in-force.ts';
import { agreementChanged } from '../agreement/store.ts';
import { link, make } from '../dom.ts';
import { type EvidenceData, toEvidence } from '../islands/visit/evidence-data.ts';

export interface Answers {
  read: (line: string) => Query;
  evidence: Evidence;
  data: EvidenceData;
}

let loading: Promise<Answers> | undefined;

/** Fetch the marks ahead of the first reading. */
export function warmAnswers(base: string): Promise<Answers> {
  loading ??= Promise.all([fetch(`${base}data/marks.json`).then((response) => response.json()), inForce()]).then(
    ([data, agreement]: [EvidenceData, Agreement | undefined]) => {
      const terms = termsOf(data.measures);
      return {
        data,
        evidence: withLocal(toEvidence(data), agreement),
        read: (line: string) => readQuery(line, data.measures, terms),
      };
    },
  );
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

addEventListener(agreementChanged, () => {
  loading = undefined;
});

/** One of the meanings that a line can have. */
export type Meaning = AskedReading | AskedSum;

/** @param chosen  called with the meaning that the reader picks, where there were several */
export function answerView(
  query: NonNullable<Query>,
  person: Person,
  answers: Answers,
  base: string,
  chosen: (meaning: Meaning) => void = () => undefined,
): HTMLElement {
  switch (query.kind) {
    case 'reading':
      return readingView(query, person, answers, base, chosen);
    case 'sum':
      return lazySum(query, base);
    case 'several':
      return make('div', '', ...query.parts.map((part) => answerView(part, person, answers, base, chosen)));
    case 'hint': {
      const say = make('p', '', `${query.say}.`);
      if (query.page) say.append(' ', link(base + query.page.slice(1), 'How it is read'));
      return make('div', 'entry', say);
    }
    case 'ask':
      return choice(
        'Which is meant?',
        query.options.map((option) => [nameOf(option, answers.data), option]),
        (option, box) => {
          replace(box, answerView(option, person, answers, base, chosen));
          chosen(option);
        },
      );
  }
}

/** The button that was pressed goes with its box: a keyboard goes on from the answer. */
function replace(old: HTMLElement, view: HTMLElement): void {
  old.replaceWith(view);
  view.tabIndex = -1;
  view.focus();
}

function choice<T>(
  question: string,
  options: readonly [string, T][],
  pick: (option: T, box: HTMLElement) => void,
): HTMLElement {
  const box = make('div', 'entry choice', make('p', '', question));
  box.setAttribute('role', 'group');
  box.setAttribute('aria-label', question);
  for (const [words, option] of options) {
    const button = make('button', '', words);
    button.type = 'button';
    button.addEventListener('click', () => pick(option, box));
    box.append(button);
  }
  return box;
}

function nameOf(option: Meaning, data: EvidenceData): string {
  if (option.kind === 'sum') return option.title;
  const measure = data.measures[option.measure];
  return measure ? `${measure.short} ${readingWords(option.reading, measure)}` : option.measure;
}

/** What was taken for granted, what the line told, and what it told in vain: nobody may believe that a word was used. */
function understood(told: readonly string[], assumed: readonly string[], unused: readonly string[]): HTMLElement {
  const line = make('p', 'small', '');
  if (told.length > 0) line.append(`Told: ${told.join('; ')}. `);
  if (assumed.length > 0) line.append(`Assumed: ${assumed.join('; ')}. `);
  if (unused.length > 0) line.append(`Not used: ${unused.map((word) => `\u201c${word}\u201d`).join(', ')}.`);
  return line;
}

function lazySum(asked: AskedSum, base: string): HTMLElement {
  const view = make('section', 'instant', make('h2', '', asked.title), understood([], asked.assumed, asked.unused));
  import('./sum-view.ts').then(
    ({ sumView }) => view.append(...sumView(asked, base)),
    () => view.append(make('p', '', link(`${base}calculators/${asked.calculator}/`, 'The calculator'))),
  );
  return view;
}

function readingView(
  asked: AskedReading,
  inHand: Person,
  answers: Answers,
  base: string,
  chosen: (meaning: Meaning) => void,
): HTMLElement {
  const { evidence, data } = answers;
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
  view.append(make('h2', '', nameOf(asked, data)), understood(asked.told, assumed, asked.unused));
  // What was breathed decides nearly every mark on a saturation: one tap tells it.
  if (measure.kind === 'number' && measure.roomAir && asked.reading.gas === undefined)
    view.append(
      choice<NonNullable<AskedReading['reading']['gas']>>(
        'Taken on',
        [
          ['air', 'air'],
          ['oxygen', 'oxygen'],
          ['a ventilator', 'ventilation'],
        ],
        (gas) => {
          const told: AskedReading = {
            ...asked,
            reading: { ...asked.reading, gas },
            told: [...asked.told, gasSaid[gas]],
            assumed: asked.assumed.filter((words) => words !== gasUnknown),
          };
          replace(view, readingView(told, inHand, answers, base, chosen));
          chosen(told);
        },
      ),
    );
  const lead = held.crossed.filter(({ shelf }) => shelf === 'acted');
  const rest = held.crossed.filter(({ shelf }) => shelf !== 'acted');
  const notCrossed = held.notCrossed.filter(({ shelf }) => shelf === 'acted' || shelf === 'background');
  const list = (entries: Held[]) =>
    make('ul', 'findings', ...entries.map((entry) => item(entry, person, evidence, data, base)));
  const fold = (words: string, entries: Held[], className = '') => {
    if (entries.length === 0) return;
    view.append(make('details', className, make('summary', '', `${words} (${entries.length})`), list(entries)));
  };
  const marked = held.crossed.length + held.notCrossed.length + held.cannotTell.length > 0;
  const heading = lead.length > 0 ? `Crosses ${lead.length}` : 'Crosses no checked start or refer mark';
  view.append(make('h3', '', marked ? heading : 'No published mark here is about this reading'));
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
  const where = criterion.local
    ? link(`${base}agree/`, standingLine(criterion))
    : link(`${base}sources/${criterion.source}/#${criterion.id}`, data.sources[criterion.source] ?? criterion.source);
  const needs = open
    .filter((id) => id !== 'age' && id !== 'disease' && id !== 'sex')
    .map((id) => evidence.measures[id]?.short ?? id);
  const whose = [
    person.disease === undefined && criterion.disease !== 'any' ? `in ${diseaseShort[criterion.disease]}` : '',
    person.sex === undefined && criterion.sex ? (criterion.sex === 'male' ? 'men' : 'women') : '',
    criterion.use === 'coverage' ? 'payer rule, not clinical need' : '',
    criterion.acute ? 'acute illness' : '',
  ].filter(Boolean);
  // A flagged test is never an unqualified 'below': the flag stands in the same sentence.
  const flags = measure && part.reading ? flagWords(part.reading, measure, evidence.measures) : [];
  const flagged = flags.length > 0 ? ` (flagged: ${flags.join('; ')})` : '';
  const told =
    part.truth === 'cannot-tell'
      ? explain({ ...finding, result: 'cannot-tell', parts: [part] }, evidence.measures)
      : comparison(part.condition, measure) + flagged;
  const line = make('p', 'said', make('b', '', told), whose.length > 0 ? ` ${whose.join(', ')}` : '');
  const by = make('p', 'small', where, criterion.local ? '.' : `, ${standingWords[criterion.standing]}.`);
  if (needs.length > 0 && part.truth === 'met') by.append(` Also asks: ${needs.join('; ')}.`);
  return make('li', `finding ${part.truth}`, line, by);
}
