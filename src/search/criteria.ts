import { contradictionWords } from '../../calculators/evaluate/contradiction-words.ts';
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { outsideWords } from '../../calculators/evaluate/outside-usual.ts';
import { comparison, nameWithValue, signClause } from '../../calculators/evaluate/say.ts';
import { hoursCount, type LineAnswer } from '../../calculators/query/answer.ts';
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { standingWords } from '../../calculators/standing.ts';
import { make } from '../browser/dom.ts';
import type { Again } from './chips.ts';
import { choice } from './choice.ts';
import type { Context } from './context.ts';
import { findingItem, statementItem } from './finding-items.ts';
export function metView(asked: AskedVisit, answer: LineAnswer, context: Context): HTMLElement[] {
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
      ? [make('p', 'small', 'This alone meets no criterion. That does not mean it is safe: look at the person.')]
      : [
          make('h3', '', nothing ? 'No published criterion here is about this' : 'Meets none of the criteria'),
          make('p', '', 'That does not mean it is safe: other readings and signs may meet one. Look at the person.'),
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

/** What the criteria of 'only if' wait for, each once; the first few say enough. */
function hangOn({ onlyIf }: LineAnswer, { evidence: { measures } }: Context): string[] {
  const names = [...new Set(onlyIf.flatMap(({ missing }) => missing))].map((id) => measures[id]?.short ?? id);
  return names.length > 5 ? [...names.slice(0, 5), `${names.length - 5} more`] : names;
}

export function onlyIfView(asked: AskedVisit, answer: LineAnswer, context: Context, again: Again): HTMLElement[] {
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
              `Is it true that ${signClause(sign, 'present', measures)}?`,
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
      `${count} more if something else is true${urgent > 0 ? ', urgent among them' : ''}`,
      make('span', 'small', ` It depends on: ${hangOn(answer, context).join('; ')}.`),
    ),
    list,
  );
  // Nothing else answers: what it depends on is the answer.
  only.open = answer.emergency.length + answer.sameDay.length + answer.soon.length + answer.met.length === 0;
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

export function foldsView(answer: LineAnswer, context: Context): HTMLElement[] {
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
