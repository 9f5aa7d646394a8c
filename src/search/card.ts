/**
 * The answer to a typed line, in the order of need: what was understood, what is urgent with its act first, the criteria
 * that are met with their purpose and sources, what hangs on one more answer, and the rest folded with its counts.
 */

import { diseaseNames } from '../../calculators/domain/diseases.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import type { Person } from '../../calculators/domain/person.ts';
import { nameWithValue, readingWords } from '../../calculators/evaluate/say.ts';
import { type UnitCode, units } from '../../calculators/quantity.ts';
import { answerTo, type LineAnswer, sameAs } from '../../calculators/query/answer.ts';
import type { AskedVisit, Topic } from '../../calculators/query/read-query.ts';
import { link, make } from '../browser/dom.ts';
import type { Answers } from './answers.ts';
import { askView, hintView } from './ask.ts';
import { chips } from './chips.ts';
import { replace } from './choice.ts';
import type { Context, Ways } from './context.ts';
import { asideView, foldsView, metView, onlyIfView } from './criteria.ts';
import { capital } from './finding-items.ts';
import { urgentView } from './urgent.ts';
import { workedOut } from './worked-out.ts';
export function cardView(
  asked: AskedVisit,
  whoIsInHand: Person,
  answers: Answers,
  base: string,
  ways: Ways,
): HTMLElement {
  // A line that names someone else is not about the person on the visit sheet.
  const person = sameAs(asked.person, whoIsInHand) ? whoIsInHand : {};
  const context: Context = { ...answers, ...ways, base, person };
  const answer = answerTo(asked, person, answers.evidence, answers.data.decisions);
  const view = make('section', 'instant');
  const again = (changed: AskedVisit, whose: Person = person) => {
    ways.chosen(changed);
    replace(view, cardView(changed, whose, answers, base, ways));
  };
  view.append(
    ...inHandView(answer, () => again(asked, {})),
    make('h2', '', title(asked, context)),
    chips(asked, answer, context, again),
    ...understood(asked),
    ...urgentView(asked, answer, context),
    ...topicsView(asked.topics ?? [], base),
    ...workedOut(
      asked,
      { ...person, ...asked.person },
      answer.visit,
      { words: answers.calculations, measures: answers.evidence.measures, base },
      { person: (fact) => again({ ...asked, person: { ...asked.person, ...fact } }), asked: again },
    ),
    ...asked.asks.map((ask) => askView(ask, answers.data, ways.view)),
    // Where criteria about the same stand below, they say more than the hint does.
    ...(answer.onlyIf.length > 0 ? [] : asked.hints).map((hint) => hintView(hint, base)),
    ...metView(asked, answer, context),
    ...onlyIfView(asked, answer, context, again),
    ...asideView(answer, context),
    ...foldsView(answer, context),
    waysOn(asked, context),
  );
  return view;
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

function title(asked: AskedVisit, { evidence: { measures }, calculations }: Context): string {
  const { readings, signs, person, others, taken } = asked;
  const numbers = Object.entries(readings).map(([id, reading]) => {
    const measure = measures[id];
    if (!measure) return id;
    // Another unit than the usual one is said in the usual one too: 2 L/s (120 L/min).
    const usual = measure.kind === 'number' ? { unit: measure.unit } : undefined;
    return `${nameWithValue(measure, id)} ${readingWords(reading, measure, usual)}`;
  });
  const present = Object.entries(signs).flatMap(([id, sign]) =>
    sign === 'present' ? [measures[id]?.short ?? id] : [`no ${measures[id]?.short ?? id}`],
  );
  const told = [
    ...numbers,
    ...overTimeWords(asked, measures),
    ...others.map(({ label, typed }) => `${label} ${typed}`),
  ];
  // Signs stand among the buttons; they are the heading where nothing was measured.
  const words = (told.length > 0 ? told : present).join(' \u00b7 ');
  if (words !== '') return words.charAt(0).toUpperCase() + words.slice(1);
  const [calculation] = taken ?? [];
  if (calculation) return calculations[calculation.calculator]?.title ?? 'Worked out';
  return person.disease ? diseaseNames[person.disease] : 'Understood';
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
            .map(({ id, page, section, anchor, typed }) =>
              make(
                'li',
                '',
                link(`${base}${page.slice(1)}${anchor ? `#${anchor}` : ''}`, topicWords(id, section)),
                make('span', 'small', ` \u201c${typed}\u201d`),
              ),
            ),
        ),
      ];

/** What the heading and the chips do not show, and what was not understood: nobody may believe that a word was used. */
function understood(asked: AskedVisit): HTMLElement[] {
  const line = make('p', 'small', '');
  const told = asked.parts.flatMap((part) => part.told).filter((words) => !/^on (air|oxygen|ventilation)$/.test(words));
  if (told.length > 0) line.append(`Understood: ${[...new Set(told)].join('; ')}. `);
  if (asked.assumed.length > 0) line.append(`Assumed: ${asked.assumed.join('; ')}. `);
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
    ways.append(link(base + page.slice(1), `All criteria on ${name}, and how to measure it`), ' \u00b7 ');
  ways.append(link(`${base}urgent/`, 'Urgent help'));
  if ([readings, signs, supports].every((some) => Object.keys(some).length === 0)) return ways;
  const open = make('button', '', 'Open in the visit sheet');
  open.type = 'button';
  open.addEventListener('click', () => void import('./to-sheet.ts').then(({ toSheet }) => toSheet(asked, base, open)));
  return make('div', '', open, ways);
}
