/**
 * The answer to a typed line, in the order of need: what was understood, what is urgent with its act first, the criteria
 * that are met with their purpose and sources, what hangs on one more answer, and the rest folded with its counts.
 */

import { diseaseNames } from '../../calculators/domain/diseases.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import type { Person } from '../../calculators/domain/person.ts';
import { asksForPercent, noPercent } from '../../calculators/evaluate/follow.ts';
import { nameWithValue, readingWords } from '../../calculators/evaluate/say.ts';
import { type UnitCode, units } from '../../calculators/quantity.ts';
import { answerTo, knownOf, type LineAnswer, sameAs } from '../../calculators/query/answer.ts';
import { calculationsOf } from '../../calculators/query/calculations.ts';
import { type AskedVisit, gasUnknown, type Topic } from '../../calculators/query/read-query.ts';
import { link, make } from '../browser/dom.ts';
import type { Answers } from './answers.ts';
import { askView, hintView } from './ask.ts';
import { type Again, chips } from './chips.ts';
import { replace } from './choice.ts';
import type { Context, Ways } from './context.ts';
import { acts, asideView, metView, namedView, onlyIfView, restView, studiesOn } from './criteria.ts';
import { capital } from './finding-items.ts';
import { urgentView } from './urgent.ts';
import type { Which } from './worked-out.ts';

/** @param meanwhile  while the reference sets are on their way: without what needs them */
export function cardView(
  asked: AskedVisit,
  whoIsInHand: Person,
  answers: Answers,
  base: string,
  ways: Ways,
  meanwhile = false,
): HTMLElement {
  if (!answers.percentOf && !meanwhile && asksForPercent(knownOf(asked, whoIsInHand)))
    return withPercent(answers, (early) => cardView(asked, whoIsInHand, answers, base, ways, early));
  // A line that names someone else is not about the person on the visit sheet.
  const person = sameAs(asked.person, whoIsInHand) ? whoIsInHand : {};
  const context: Context = { ...answers, ...ways, base, person };
  const answer = answerTo(asked, person, answers.evidence, answers.data.decisions, answers.percentOf ?? noPercent);
  const view = make('section', 'instant');
  const measured = measuredWords(asked, context);
  const again = (changed: AskedVisit, whose: Person = person) => {
    ways.chosen(changed);
    replace(view, cardView(changed, whose, answers, base, ways));
  };
  // What the line asks to be worked out comes first; what only follows from its readings comes after what they meet.
  const worked = (which: Which) => workedView(which, asked, answer, context, again);
  view.append(
    ...inHandView(answer, () => again(asked, {})),
    // Signs and supports are the buttons below it: heard, not seen twice.
    make(
      'h2',
      measured === '' && namedBelow(asked) ? 'hidden' : '',
      measured === '' ? subject(asked, context) : measured,
    ),
    chips(asked, answer, context, again),
    ...understood(asked),
    ...urgentView(asked, answer, context),
    ...topicsView(asked.topics ?? [], base),
    ...worked(answer.met.length > 0 ? 'asked' : 'all'),
    ...asked.asks.map((ask) => askView(ask, answers.data, ways.view)),
    // Where criteria about the same stand below, they say more than the hint does.
    ...(answer.onlyIf.length > 0 ? [] : asked.hints).map((hint) => hintView(hint, base)),
    ...metView(asked, answer, context),
    ...(answer.met.length > 0 ? worked('following') : []),
    // Where nothing acts, what a study, a payer or an unread source says is named before what it could hang on.
    ...(acts(answer) ? [] : [...asideView(answer, context), ...namedView(answer, context)]),
    ...onlyIfView(asked, answer, context, again),
    ...(acts(answer) ? [...asideView(answer, context), ...namedView(answer, context)] : []),
    ...restView(answer, context),
    waysOn(asked, context),
  );
  return view;
}

/**
 * The reference sets come where litres, sex, age and height ask for them. On a slow signal that takes a while: meanwhile all
 * that needs no per cent stands, an emergency first of all.
 */
function withPercent(answers: Answers, draw: (meanwhile: boolean) => HTMLElement): HTMLElement {
  const place = draw(true);
  const told = make('p', 'small', 'Working out per cent of predicted. More may be met.');
  place.querySelector('h2')?.after(told);
  import('../../calculators/evaluate/derive.ts').then(
    ({ percentBy }) => {
      answers.percentOf = percentBy({ set: 'gli-2022-global' });
      place.replaceWith(draw(false));
    },
    () => {
      answers.percentOf = noPercent;
      told.replaceWith(make('p', 'care', 'Per cent of predicted could not be worked out. Reload the page.'));
    },
  );
  return place;
}

/** What works out comes where something is to be worked out. */
function workedView(which: Which, asked: AskedVisit, answer: LineAnswer, context: Context, again: Again) {
  const { visit } = answer;
  const { base, calculations: words, evidence, person } = context;
  const whose = { ...person, ...asked.person };
  const follows = Object.values(visit.readings).some(({ from }) => from !== undefined);
  if (!follows && calculationsOf(asked, whose, words).length === 0) return [];
  const place = make('div', '');
  import('./worked-out.ts').then(
    ({ workedOut }) =>
      place.replaceWith(
        ...workedOut(
          asked,
          whose,
          visit,
          { words, measures: evidence.measures, base, studiesOn: (id) => studiesOn(id, answer, context) },
          { person: (fact) => again({ ...asked, person: { ...asked.person, ...fact } }), asked: again },
          which,
        ),
      ),
    () => place.append(link(`${base}calculators/`, 'All calculators')),
  );
  return [place];
}

/** Whose facts complete the line is said before anything that rests on them. */
const inHandView = ({ assumed }: LineAnswer, leave: () => void): HTMLElement[] => {
  if (assumed.inHand.length === 0) return [];
  const button = make('button', '', 'Someone else');
  button.type = 'button';
  button.addEventListener('click', leave);
  return [make('p', 'in-hand', 'Answered for the person on the visit sheet. ', button)];
};

// --- what was understood ---------------------------------------------------------------------------------------------

/** The numbers of the line, each in the words and the unit that its criteria use. */
function measuredWords(asked: AskedVisit, { evidence: { measures } }: Context): string {
  const { readings, others } = asked;
  const numbers = Object.entries(readings).map(([id, reading]) => {
    const measure = measures[id];
    if (!measure) return id;
    // Another unit than the usual one is said in the usual one too: 2 L/s (120 L/min).
    const usual = measure.kind === 'number' ? { unit: measure.unit } : undefined;
    return `${nameWithValue(measure, id)} ${readingWords(reading, measure, usual)}`;
  });
  const told = [
    ...numbers,
    ...overTimeWords(asked, measures),
    ...others.map(({ label, typed }) => `${label} ${typed}`),
  ];
  return capital(told.join('\u00a0\u00b7 '));
}

const namedBelow = ({ signs, supports }: AskedVisit): boolean =>
  Object.keys(signs).length + Object.keys(supports).length > 0;

/** What the line is about, where nothing was measured. */
function subject(asked: AskedVisit, { evidence: { measures }, data: { decisions }, calculations }: Context): string {
  const { signs, supports, person, taken } = asked;
  const present = Object.entries(signs).map(([id, sign]) =>
    sign === 'present' ? (measures[id]?.short ?? id) : `no ${measures[id]?.short ?? id}`,
  );
  if (present.length > 0) return capital(present.join('\u00a0\u00b7 '));
  const [calculation] = taken ?? [];
  if (calculation) return calculations[calculation.calculator]?.title ?? 'Worked out';
  if (person.disease) return diseaseNames[person.disease];
  const [support] = Object.keys(supports);
  return (support && (decisions[support]?.status?.label ?? decisions[support]?.title)) ?? 'Understood';
}

/** Readings asleep, falls and values over time, each in the words of the line. */
function overTimeWords({ asleep = [], falls = [], series = [] }: AskedVisit, measures: Measures): string[] {
  const short = (id: string | undefined) => (id === undefined ? '' : (measures[id]?.short ?? id));
  const over = (months: number | undefined) =>
    months === undefined ? '' : ` in ${Number(months.toFixed(1))} ${months === 1 ? 'month' : 'months'}`;
  const symbol = (unit: UnitCode | 'points') => (unit === 'points' ? 'points' : units[unit].symbol);
  return [
    ...asleep.map(({ measure, reading }) => `${short(measure)} ${reading.value} ${symbol(reading.unit)} asleep`),
    ...falls.map(({ measure, by, unit, overMonths }) =>
      `${short(measure)} fell by ${by} ${symbol(unit)}${over(overMonths)}`.trim(),
    ),
    ...series.map(
      ({ measure, values, unit, overMonths }) =>
        `${short(measure)} ${values.join(', then ')} ${symbol(unit)}${over(overMonths)}`,
    ),
  ];
}

/** The subject, then the section; a section that begins with the subject stands alone. */
function topicWords(id: string, section: string | undefined): string {
  const plain = (text: string): string => text.toLowerCase().replaceAll('-', ' ');
  const subject = capital(id).replaceAll('-', ' ');
  if (section === undefined) return subject;
  return plain(section).startsWith(plain(id)) ? section : `${subject}: ${section}`;
}

/** Pages that answer a subject of the line, at the section that answers. */
export const topicsView = (topics: readonly Topic[], base: string): HTMLElement[] =>
  topics.length === 0
    ? []
    : [
        make(
          'ul',
          'topics',
          ...topics
            .slice(0, 3)
            .map(({ id, page, section, anchor, says, typed }) =>
              make(
                'li',
                '',
                link(`${base}${page.slice(1)}${anchor ? `#${anchor}` : ''}`, topicWords(id, section)),
                make('span', 'small', ` \u201c${typed}\u201d`),
                ...(says === undefined ? [] : [make('p', 'said', says)]),
              ),
            ),
        ),
      ];

/** A button says it already, and changes it: an age, a height, what was breathed. */
const isButton = (words: string, { person, readings }: AskedVisit): boolean =>
  words === `age ${person.ageYears}?` ||
  words === `height ${person.heightCm} cm` ||
  (words.endsWith(gasUnknown) && Object.values(readings).some(({ gas }) => gas === undefined));

/** What the heading and the chips do not show, and what was not understood: nobody may believe that a word was used. */
function understood(asked: AskedVisit): HTMLElement[] {
  const line = make('p', 'small', '');
  const told = asked.parts.flatMap((part) => part.told).filter((words) => !/^on (air|oxygen|ventilation)$/.test(words));
  if (told.length > 0) line.append(`Understood: ${[...new Set(told)].join('; ')}. `);
  const assumed = asked.assumed.filter((words) => !isButton(words, asked));
  if (assumed.length > 0) line.append(`Assumed: ${assumed.join('; ')}. `);
  if (asked.notUnderstood.length > 0)
    line.append(
      make('b', '', `Not understood: ${asked.notUnderstood.map((word) => `\u201c${word}\u201d`).join(', ')}.`),
    );
  return line.childNodes.length > 0 ? [line] : [];
}

function waysOn(asked: AskedVisit, { evidence, base }: Context): HTMLElement {
  const { readings, signs, supports } = asked;
  const pages = new Map(
    Object.keys(readings).flatMap((id) => {
      const measure = evidence.measures[id];
      return measure?.page ? [[measure.page, measure.short] as const] : [];
    }),
  );
  const ways = make('p', '');
  for (const [page, name] of pages)
    ways.append(link(base + page.slice(1), `All criteria on ${name}, and how to measure it`), '\u00a0\u00b7 ');
  ways.append(link(`${base}urgent/`, 'Urgent help'));
  if ([readings, signs, supports].every((some) => Object.keys(some).length === 0)) return ways;
  const open = make('button', '', 'Open in the visit sheet');
  open.type = 'button';
  open.addEventListener('click', () => void import('./to-sheet.ts').then(({ toSheet }) => toSheet(asked, base, open)));
  return make('div', '', open, ways);
}
