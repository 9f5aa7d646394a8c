/**
 * The answer to a typed line, in the order of need: what was understood, what is urgent with its act first, the criteria
 * that are met with their purpose and sources, what hangs on one more answer, and the rest folded with its counts.
 */

import { standingLine } from '../../calculators/agreement/agreement-words.ts';
import { adultsOfSex } from '../../calculators/domain/age-and-sex.ts';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import { type Disease, diseaseNames } from '../../calculators/domain/diseases.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import type { Person } from '../../calculators/domain/person.ts';
import { declinedLines } from '../../calculators/evaluate/act.ts';
import { contradictionWords } from '../../calculators/evaluate/contradiction-words.ts';
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { explain } from '../../calculators/evaluate/explain.ts';
import { outsideWords } from '../../calculators/evaluate/outside-usual.ts';
import { comparison, nameWithValue, readingWords, signClause } from '../../calculators/evaluate/say.ts';
import { type UnitCode, units } from '../../calculators/quantity.ts';
import { answerTo, hoursCount, type LineAnswer, type Statement } from '../../calculators/query/answer.ts';
import type { AskedVisit, Query, Topic } from '../../calculators/query/read-query.ts';
import { standingWords } from '../../calculators/standing.ts';
import { type Child, link, make } from '../browser/dom.ts';
import type { Answers, Meaning } from './answers.ts';
import { askView, hintView } from './ask.ts';
import { type Again, chips } from './chips.ts';
import { choice, replace } from './choice.ts';
import { workedOut } from './worked-out.ts';

interface Ways {
  chosen: (meaning: Meaning) => void;
  view: (asked: NonNullable<Query>) => HTMLElement;
}

interface Context extends Answers, Ways {
  base: string;
  person: Person;
}

export function cardView(asked: AskedVisit, person: Person, answers: Answers, base: string, ways: Ways): HTMLElement {
  const context: Context = { ...answers, ...ways, base, person };
  const answer = answerTo(asked, person, answers.evidence, answers.data.decisions);
  const view = make('section', 'instant');
  const again = (changed: AskedVisit, whose: Person = person) => {
    ways.chosen(changed);
    replace(view, cardView(changed, whose, answers, base, ways));
  };
  view.append(
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
                link(
                  `${base}${page.slice(1)}${anchor ? `#${anchor}` : ''}`,
                  [capital(id).replaceAll('-', ' '), section].filter(Boolean).join(': '),
                ),
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

// --- urgent ----------------------------------------------------------------------------------------------------------

/** Diseases in which hours count have a page of their own, and it always leads. */
const hoursPages: Partial<Record<Disease, { act: string; page: string; name: string }>> = {
  mg: {
    act: 'New trouble with breathing, swallowing, speech or saliva: call the emergency number now.',
    page: 'urgent/myasthenia/',
    name: 'Myasthenia: what to do, step by step',
  },
  gbs: {
    act: 'Weaker, breathless, or trouble with swallowing or speech: call the emergency number now.',
    page: 'urgent/guillain-barre/',
    name: 'Guillain-Barr\u00e9: what to do, step by step',
  },
  'sci-acute': {
    act: 'Breathing worse, weak cough, or a falling vital capacity: call critical care, or the emergency number, now.',
    page: 'diseases/cord-injury/',
    name: 'Cord injury: what to watch',
  },
};

function urgentView(asked: AskedVisit, answer: LineAnswer, context: Context): HTMLElement[] {
  const { base } = context;
  const blocks: HTMLElement[] = [];
  const group = (heading: string, acts: LineAnswer['emergency']) => {
    if (acts.length === 0) return;
    const block = make('section', 'alarm', make('h3', '', heading));
    for (const { act, findings } of acts) {
      const page = findings.find(({ criterion }) => criterion.urgentPage)?.criterion.urgentPage;
      block.append(
        make('p', 'act', make('strong', '', act), ' ', ...(page ? [link(base + page.slice(1), 'Step by step')] : [])),
        make('ul', 'findings', ...findings.map((finding) => findingItem(finding, context))),
      );
    }
    blocks.push(block);
  };
  group('Emergency', answer.emergency);
  for (const { page, typed } of asked.dangers)
    blocks.push(
      make(
        'section',
        'alarm',
        make('h3', '', 'Emergency'),
        make(
          'p',
          'act',
          make('strong', '', 'Call the emergency number now.'),
          ` \u201c${typed}\u201d can be an emergency. `,
          link(base + page.slice(1), 'Step by step'),
        ),
      ),
    );
  const hours = answer.visit.disease === undefined ? undefined : hoursPages[answer.visit.disease];
  if (hours && hoursCount(answer.visit) && answer.emergency.length === 0)
    blocks.push(
      make(
        'section',
        'alarm',
        make('h3', '', `${diseaseNames[answer.visit.disease as Disease]}: hours count`),
        make('p', 'act', make('strong', '', hours.act), ' ', link(base + hours.page, hours.name)),
      ),
    );
  group('Same day', answer.sameDay);
  if (answer.soon.length > 0)
    blocks.push(
      make(
        'section',
        'care',
        make('h3', '', 'Within a week'),
        make('ul', 'findings', ...answer.soon.map((statement) => statementItem(statement, context))),
      ),
    );
  if (answer.emergency.length + answer.sameDay.length + answer.soon.length + answer.met.length > 0)
    blocks.unshift(...declinedLines(answer.visit, context.data.decisions).map((line) => make('p', 'care', line)));
  for (const [disease, findings] of Map.groupBy(answer.urgentIf, ({ criterion }) => criterion.disease))
    blocks.push(
      make(
        'section',
        'alarm',
        make('h3', '', disease === 'any' ? 'Urgent, depending on who it is' : `If this is ${diseaseNames[disease]}`),
        ...findings
          .slice(0, 2)
          .map((finding) =>
            make('p', 'act', make('strong', '', finding.criterion.act ?? ''), ` ${explainMet(finding, context)}`),
          ),
      ),
    );
  return blocks;
}

// --- criteria --------------------------------------------------------------------------------------------------------

function metView(asked: AskedVisit, answer: LineAnswer, context: Context): HTMLElement[] {
  const { met } = answer;
  // A calculation and nothing about the person's breathing: there is nothing to compare.
  if (asked.taken && Object.keys(asked.readings).length + Object.keys(asked.signs).length === 0) return [];
  if (met.length === 0) {
    const urgent =
      answer.emergency.length +
        answer.sameDay.length +
        answer.urgentIf.length +
        answer.soon.length +
        asked.dangers.length >
        0 || hoursCount(answer.visit);
    const nothing = answer.onlyIf.length + answer.notMet.length + answer.cannotTell.length === 0;
    if (urgent) return [];
    // What it depends on is open below and says more than a heading could.
    return answer.onlyIf.length > 0
      ? [make('p', 'small', 'Nothing is met by this alone. That is not reassurance: look at the person.')]
      : [
          make('h3', '', nothing ? 'No published criterion here is about this' : 'Meets none of the criteria'),
          make('p', '', 'That is not reassurance: other readings and signs may meet one. Look at the person.'),
        ];
  }
  const groups = [...Map.groupBy(met, ({ purpose }) => purpose)];
  return [
    make(
      'h3',
      '',
      `Meets ${met.length} ${met.length === 1 ? 'criterion' : 'criteria'}${groups.length > 1 ? `: ${groups.map(([purpose]) => purpose).join('; ')}` : ''}`,
    ),
    ...groups.map(([purpose, some]) =>
      make(
        'div',
        'purpose',
        make('p', 'of', make('b', '', purpose.charAt(0).toUpperCase() + purpose.slice(1))),
        make('ul', 'findings', ...some.map((statement) => statementItem(statement, context))),
      ),
    ),
  ];
}

/** One rule in one line, and under it whoever holds it. */
function statementItem({ rule, findings }: Statement, context: Context): HTMLElement {
  const first = findings[0];
  // A sign that follows from a reading is said with the reading.
  const implied = first?.parts.some(({ impliedBy }) => impliedBy !== undefined);
  const state = first && findings.every(({ result }) => result === 'cannot-tell') ? 'cannot-tell' : 'met';
  const said = first && implied ? explainMet(first, context) : rule;
  const flagged = first?.flags.length && !implied ? ` ${explainMet(first, context)}` : '';
  return make(
    'li',
    `finding ${state}`,
    make('p', 'said', make('b', '', said.charAt(0).toUpperCase() + said.slice(1)), flagged),
    make('p', 'small', ...sourcesOf(findings, context), ...cautionOf(first)),
  );
}

const cautionOf = (finding: Finding | undefined): Child[] =>
  finding?.criterion.use === 'caution' && finding.criterion.action !== ''
    ? [` ${withoutSource(finding.criterion.action)}`]
    : [];

function sourcesOf(findings: readonly Finding[], { data, base }: Context): Child[] {
  const byStanding = new Map<string, Child[]>();
  for (const finding of findings) {
    const { criterion } = finding;
    const whose = whoseWords(finding);
    const where = criterion.local
      ? link(`${base}agree/`, standingLine(criterion))
      : link(`${base}sources/${criterion.source}/#${criterion.id}`, data.sources[criterion.source] ?? criterion.source);
    // 'Common practice' is the name of that source, and how it is known.
    const how = criterion.local || criterion.source === 'trade-practice' ? '' : standingWords[criterion.standing];
    const list = byStanding.get(how) ?? [];
    if (list.length > 0) list.push(', ');
    list.push(where, whose === '' ? '' : ` (${whose})`);
    byStanding.set(how, list);
  }
  return [...byStanding]
    .flatMap(([how, list], at) => [...(at > 0 ? ['; '] : []), ...list, how === '' ? '' : `: ${how}`])
    .concat('.');
}

/** Which people a criterion is for, where the line does not settle it. */
const whoseWords = ({ criterion, missing }: Finding): string =>
  [
    missing.includes('disease') && criterion.disease !== 'any' ? diseaseShort[criterion.disease] : '',
    missing.includes('sex') && criterion.sex ? adultsOfSex[criterion.sex] : '',
    criterion.acute ? 'acute illness' : '',
  ]
    .filter(Boolean)
    .join(', ');

/** The sentence of a finding as if the person were the one it is for. */
const explainMet = (finding: Finding, { evidence }: Context): string =>
  explain({ ...finding, result: 'met', missing: [] }, evidence.measures);

/** What the criteria of 'only if' wait for, each once; the first few say enough. */
function hangOn({ onlyIf }: LineAnswer, { evidence: { measures } }: Context): string[] {
  const names = [...new Set(onlyIf.flatMap(({ missing }) => missing))].map((id) => measures[id]?.short ?? id);
  return names.length > 5 ? [...names.slice(0, 5), `${names.length - 5} more`] : names;
}

function onlyIfView(asked: AskedVisit, answer: LineAnswer, context: Context, again: Again): HTMLElement[] {
  if (answer.onlyIf.length === 0) return [];
  const { measures } = context.evidence;
  const groups = answer.onlyIf.map(({ missing, statements, urgent }) => {
    const item = make('li', urgent ? 'alarm' : '');
    const [only] = missing;
    const sign = missing.length === 1 && only !== undefined && measures[only]?.kind === 'sign' ? only : undefined;
    item.append(
      ...(sign
        ? [
            choice(
              `Is it so that ${signClause(sign, 'present', measures)}?`,
              [
                ['Yes', 'present'],
                ['No', 'absent'],
              ] as const,
              (answered) => again({ ...asked, signs: { ...asked.signs, [sign]: answered } }),
            ),
          ]
        : []),
      make('ul', 'findings', ...statements.map((statement) => statementItem(statement, context))),
    );
    return item;
  });
  const urgent = answer.onlyIf.filter((one) => one.urgent).length;
  const list = make('ul', 'only-if', ...groups);
  const count = answer.onlyIf.reduce((sum, { statements }) => sum + statements.length, 0);
  const only = make(
    'details',
    'only',
    make(
      'summary',
      '',
      `${count} more if something else is so${urgent > 0 ? ', urgent among them' : ''}`,
      make('span', 'small', ` It depends on: ${hangOn(answer, context).join('; ')}.`),
    ),
    list,
  );
  // Nothing else answers: what it depends on is the answer.
  only.open = answer.emergency.length + answer.sameDay.length + answer.soon.length + answer.met.length === 0;
  return [only];
}

// --- the rest --------------------------------------------------------------------------------------------------------

function asideView({ unusual, disagree }: LineAnswer, { evidence, data }: Context): HTMLElement[] {
  return [
    ...unusual.map((one) =>
      make(
        'p',
        'care',
        outsideWords(one, evidence, (id) => data.sources[id] ?? id, standingWords),
      ),
    ),
    ...disagree.map((one) => make('p', 'care', contradictionWords(one, evidence.measures, data.decisions))),
  ];
}

function foldsView(answer: LineAnswer, context: Context): HTMLElement[] {
  const fold = (words: string, findings: readonly Finding[], name = '', named = false): HTMLElement[] =>
    findings.length === 0
      ? []
      : [
          make(
            'details',
            name,
            make('summary', '', `${words} (${findings.length})`, ...(named ? [rulesOf(findings, context)] : [])),
            make('ul', 'findings', ...findings.map((finding) => findingItem(finding, context))),
          ),
        ];
  return [
    ...fold('Cannot tell', answer.cannotTell),
    ...fold('Not met', answer.notMet),
    ...fold('Payer rules: not clinical need', answer.payer),
    ...fold('Study figures met', answer.folded.study),
    ...fold('Not yet checked, met: read the source before relying on it', answer.folded.unchecked, 'unread', true),
    ...fold('Replaced editions met', answer.folded.replaced),
  ];
}

/** What folded criteria say, in a line: the reader who asked about one must see that it is there. */
function rulesOf(findings: readonly Finding[], { evidence: { measures }, data }: Context): HTMLElement {
  const named = findings.slice(0, 2).map(({ criterion }) => {
    const measure = measures[criterion.measure];
    const rule = [nameWithValue(measure, criterion.measure), comparison(criterion, measure)].join(' ');
    return `${data.sources[criterion.source] ?? criterion.source}: ${rule}`;
  });
  const more = findings.length - named.length;
  return make('span', 'small', ` ${named.join('; ')}${more > 0 ? `; ${more} more` : ''}.`);
}

function findingItem(finding: Finding, context: Context): HTMLElement {
  const { criterion, result } = finding;
  return make(
    'li',
    `finding ${result}`,
    make('p', 'said', explain(finding, context.evidence.measures)),
    make('p', 'small', ...sourcesOf([finding], context), ...actionOf(criterion, result)),
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

const actionOf = ({ action, urgency }: Criterion, result: Finding['result']): Child[] =>
  result === 'met' && urgency !== 'routine' && action !== '' ? [` ${withoutSource(action)}`] : [];

/** The source stands right before it. */
const withoutSource = (action: string): string => {
  const words = action.replace(/^(?:Common practice|The source): /, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
};

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
