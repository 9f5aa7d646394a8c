import { contradictionWords } from '../../calculators/evaluate/contradiction-words.ts';
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { outsideWords } from '../../calculators/evaluate/outside-usual.ts';
import { nameWithValue, ruleWords, signClause } from '../../calculators/evaluate/say.ts';
import { hoursCount, type LineAnswer, metForSomeone, type Statement } from '../../calculators/query/answer.ts';
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { standingWords } from '../../calculators/standing.ts';
import { make } from '../browser/dom.ts';
import type { Again } from './chips.ts';
import { choice } from './choice.ts';
import type { Context } from './context.ts';
import { capital, findingItem, statementItem, withoutSource } from './finding-items.ts';

export function metView(asked: AskedVisit, answer: LineAnswer, context: Context): HTMLElement[] {
  const { met } = answer;
  if (met.length === 0) return nothingMet(asked, answer);
  const groups = [...Map.groupBy(met, ({ purpose }) => purpose)];
  const purposes = groups.map(([purpose]) => purpose).join('; ');
  return [
    make('h3', '', metWords(met), ...(groups.length > 1 ? [make('span', 'small', `: ${purposes}`)] : [])),
    ...groups.map(([purpose, some]) =>
      make(
        'div',
        'purpose',
        make(
          'p',
          'of',
          make(
            'b',
            '',
            isInUse(some, asked) ? `Already in use; review it: ${purpose.replace(/^start /, '')}` : capital(purpose),
          ),
        ),
        make('ul', 'findings', ...some.map((statement) => statementItem(statement, context))),
      ),
    ),
  ];
}

/** 'Meets' only what is met: without the disease or the age, a reading meets a criterion of some people and not of others. */
function metWords(met: readonly Statement[]): string {
  const count = (some: number) => `${some} ${some === 1 ? 'criterion' : 'criteria'}`;
  const open = met.filter(({ findings }) => findings.every(({ result }) => result === 'cannot-tell')).length;
  if (open === 0) return `Meets ${count(met.length)}`;
  if (open === met.length) return `May meet ${count(open)}, depending on the person`;
  return `Meets ${count(met.length - open)}, and may meet ${open} more, depending on the person`;
}

/** What was to be started is there already: its criteria are then a reason to review it. */
const isInUse = (some: readonly Statement[], { supports }: AskedVisit): boolean =>
  some.some(({ decision, findings }) => supports[decision] === 'in-place' && findings.some(startsIt));
const startsIt = ({ criterion }: Finding): boolean => criterion.use === 'decision';

/** Where something is met by nothing of the line, that is said; never as reassurance, and never beside an act. */
function nothingMet(asked: AskedVisit, answer: LineAnswer): HTMLElement[] {
  const { emergency, sameDay, urgentIf, soon, onlyIf, unusual, visit } = answer;
  const urgent = emergency.length + sameDay.length + urgentIf.length + soon.length + asked.dangers.length;
  const compared = Object.keys(asked.readings).length + Object.keys(asked.signs).length;
  // A calculation, or a subject that has a page, and nothing about the person's breathing: there is nothing to compare.
  const nothingToCompare = compared === 0 && (asked.taken ?? asked.topics ?? []).length > 0;
  // What is outside the usual range says this itself, with its numbers.
  if (urgent > 0 || hoursCount(visit) || nothingToCompare || unusual.some(({ asks }) => asks.length === 0)) return [];
  // What it depends on is open below and says more than a heading could.
  if (onlyIf.length > 0)
    return [
      make(
        'p',
        'small',
        'This alone meets no criterion. That does not mean that the person is safe: look at the person.',
      ),
    ];
  return [
    make('h3', '', isAboutNothing(answer) ? 'No published criterion here is about this' : 'Meets none of the criteria'),
    make(
      'p',
      '',
      'That does not mean that the person is safe: other readings and signs may meet a criterion. Look at the person.',
    ),
  ];
}

const isAboutNothing = ({ notMet, cannotTell, payer, folded }: LineAnswer): boolean =>
  notMet.length + cannotTell.length + payer.length + Object.values(folded).flat().length === 0;

/** What the criteria of 'only if' wait for, each once; the first few say enough. */
function hangOn({ onlyIf }: LineAnswer, { evidence: { measures } }: Context): string[] {
  const names = [...new Set(onlyIf.flatMap(({ missing }) => missing))].map((id) => measures[id]?.short ?? id);
  return names.length > 5 ? [...names.slice(0, 5), `${names.length - 5} more`] : names;
}

/** As many as are read at a glance below what is met. */
const fewEnough = 2;
const isCalled = ({ emergency, sameDay, soon }: LineAnswer): boolean =>
  emergency.length + sameDay.length + soon.length > 0;

export function onlyIfView(asked: AskedVisit, answer: LineAnswer, context: Context, again: Again): HTMLElement[] {
  if (answer.onlyIf.length === 0) return [];
  const { measures } = context.evidence;
  const groups = answer.onlyIf.map(({ missing, statements, urgent }) => {
    const item = make('li', urgent ? 'alarm' : '');
    const [only] = missing;
    const sign = missing.length === 1 && only !== undefined && measures[only]?.kind === 'sign' ? only : undefined;
    // What hangs on it first: the answer to the question changes that.
    item.append(
      make('ul', 'findings', ...statements.map((statement) => statementItem(statement, context))),
      ...(sign
        ? [
            choice(
              `Is it true that ${signClause(sign, 'present', measures)}?`,
              [
                ['Yes', 'present'],
                ['No', 'absent'],
              ] as const,
              (answered) => again({ ...asked, signs: { ...asked.signs, [sign]: answered } }),
            ),
          ]
        : []),
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
      `${count} ${answer.met.length > 0 ? 'more ' : ''}if something else is true${urgent > 0 ? ', including urgent criteria' : ''}`,
      make('span', 'small', ` It depends on: ${hangOn(answer, context).join('; ')}.`),
    ),
    list,
  );
  // Where nothing else answers, what it depends on is the answer; a few beside criteria that are met are asked in place.
  only.open = !acts(answer) || (!isCalled(answer) && count <= fewEnough);
  return [only];
}

export function asideView({ unusual, disagree }: LineAnswer, { evidence, data }: Context): HTMLElement[] {
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

/** Something of the line is met that asks for an act or a decision. */
export const acts = ({ emergency, sameDay, soon, met }: LineAnswer): boolean =>
  emergency.length + sameDay.length + soon.length + met.length > 0;

function fold(
  context: Context,
  words: string,
  findings: readonly Finding[],
  name = '',
  ...named: HTMLElement[]
): HTMLElement[] {
  if (findings.length === 0) return [];
  const items = findings.map((finding) => findingItem(finding, context));
  const summary = make('summary', '', `${words} (${findings.length})`, ...named);
  return [make('details', name, summary, make('ul', 'findings', ...items))];
}

/** Folded, and what they say in a line each: the reader who asked about one must see that it is there. */
export function namedView(answer: LineAnswer, context: Context): HTMLElement[] {
  const { payer, folded } = answer;
  const named = (words: string, findings: readonly Finding[], name = '') =>
    fold(context, words, findings, name, rulesOf(findings, context));
  return [
    ...named(`Study figures ${state(folded.study)}`, folded.study),
    ...named(
      `Not yet checked, ${state(folded.unchecked)}: read the source before relying on it`,
      folded.unchecked,
      'unread',
    ),
    ...named('Payer rules: not clinical need', payer),
    ...named(`Replaced editions ${state(folded.replaced)}`, folded.replaced),
  ];
}

/** A value asleep bears on criteria about a whole night, and cannot meet one: 'met' is said only where all are. */
const state = (findings: readonly Finding[]): string =>
  findings.every((finding) => finding.result !== 'cannot-tell' || metForSomeone(finding)) ? 'met' : 'on this';

export const restView = ({ cannotTell, notMet }: LineAnswer, context: Context): HTMLElement[] => [
  ...fold(context, 'Cannot tell', cannotTell),
  ...fold(context, 'Not met', notMet),
];

function rulesOf(findings: readonly Finding[], context: Context): HTMLElement {
  const named = findings.slice(0, 2).map((finding) => ruleOf(finding, context));
  const more = findings.length - named.length;
  return make('span', 'small', ` ${named.join(' ')}${more > 0 ? ` ${more} more.` : ''}`);
}

/** What studies say of one measure, beside a value of it that was worked out. */
export const studiesOn = (measure: string, { folded }: LineAnswer, context: Context): string[] =>
  folded.study
    .filter(({ criterion, result }) => criterion.measure === measure && result !== 'not-met')
    .map((finding) => `Study figure ${state([finding])}: ${ruleOf(finding, context)}`);

/** 'DMD care 2018: AHI at or above 5 /h (start night NIV).' */
function ruleOf({ criterion, decision }: Finding, { evidence: { measures }, data }: Context): string {
  const measure = measures[criterion.measure];
  const rule = ruleWords(nameWithValue(measure, criterion.measure), criterion, measure);
  const source = data.sources[criterion.source] ?? criterion.source;
  const purpose = data.decisions[decision ?? '']?.purposes[criterion.support];
  // What common practice asks for says more than what it is for.
  const then = criterion.action === '' ? '' : ` ${withoutSource(criterion.action)}`;
  return `${source}: ${rule}${purpose && then === '' ? ` (${purpose})` : ''}.${then}`;
}
