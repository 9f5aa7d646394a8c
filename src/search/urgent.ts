import { type Disease, diseaseNames } from '../../calculators/domain/diseases.ts';
import { declinedLines } from '../../calculators/evaluate/act.ts';
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { hoursCount, type LineAnswer } from '../../calculators/query/answer.ts';
import type { AskedVisit, Danger } from '../../calculators/query/read-query.ts';
import { type Child, link, make } from '../browser/dom.ts';
import type { Context } from './context.ts';
import { explainMet, findingItem, statementItem } from './finding-items.ts';

/** Diseases in which hours count have a page of their own, and it always leads. */
const hoursPages: Partial<Record<Disease, { act: string; page: string; name: string }>> = {
  mg: {
    act: 'New trouble with breathing, swallowing, speech or saliva: call the emergency number now.',
    page: 'urgent/myasthenia/',
    name: 'Myasthenia: what to do, step by step',
  },
  gbs: {
    act: 'Call the emergency number now if the person is weaker or breathless, or has trouble with swallowing or speech.',
    page: 'urgent/guillain-barre/',
    name: 'Guillain-Barr\u00e9: what to do, step by step',
  },
  'sci-acute': {
    act: 'Breathing worse, weak cough, or a falling vital capacity: call critical care, or the emergency number, now.',
    page: 'diseases/cord-injury/',
    name: 'Cord injury: what to watch',
  },
};

/** Emergency before same day before within a week; then what is urgent only for someone that the line does not name. */
export function urgentView(asked: AskedVisit, answer: LineAnswer, context: Context): HTMLElement[] {
  const { emergency, sameDay, soon, met } = answer;
  const any = emergency.length + sameDay.length + soon.length + met.length > 0;
  const calledNow = emergency.length + asked.dangers.length > 0;
  return [
    ...(any ? declinedLines(answer.visit, context.data.decisions).map((line) => make('p', 'care', line)) : []),
    ...actsView('Emergency', emergency, context),
    ...asked.dangers.map((danger) => dangerView(danger, context)),
    ...(calledNow ? [] : sleepyOnOxygenView(answer, context)),
    ...hoursView(answer, context),
    ...actsView('Same day', sameDay, context, calledNow),
    ...soonView(answer, context),
    ...(calledNow ? foldedIf(urgentIfView(answer, context)) : urgentIfView(answer, context)),
  ];
}

const block = (className: string, heading: string, ...children: Child[]): HTMLElement =>
  make('section', className, make('h3', '', heading), ...children);

/** The emergency number is called already: whom else it would be an emergency for can wait a tap. */
const foldedIf = (blocks: readonly HTMLElement[]): HTMLElement[] =>
  blocks.length === 0
    ? []
    : [make('details', '', make('summary', '', 'Also urgent, depending on who it is'), ...blocks)];

function actsView(heading: string, acts: LineAnswer['emergency'], context: Context, brief = false): HTMLElement[] {
  if (acts.length === 0) return [];
  const lines = acts.flatMap(({ act, findings }) => {
    const page = findings.find(({ criterion }) => criterion.urgentPage)?.criterion.urgentPage;
    const way = page ? [link(context.base + page.slice(1), 'Step by step')] : [];
    return [
      make('p', 'act', make('strong', '', act), ' ', ...way),
      make('ul', 'findings', ...findings.map((finding) => findingItem(finding, context, brief))),
    ];
  });
  return [block('alarm', heading, ...lines)];
}

const dangerView = ({ page, typed, as }: Danger, { base }: Context): HTMLElement =>
  block(
    'alarm',
    'Emergency',
    make(
      'p',
      'act',
      make('strong', '', 'Call the emergency number now.'),
      ` \u201c${typed}\u201d can be an emergency${as === undefined ? '' : `: ${as}`}. `,
      link(base + page.slice(1), 'Step by step'),
    ),
  );

/** 'Sleepy' is read as sleepiness by day. On oxygen without ventilation it may be raised carbon dioxide: common practice. */
function sleepyOnOxygenView({ visit: { signs } }: LineAnswer, { base }: Context): HTMLElement[] {
  if (signs['daytime-sleepiness'] !== 'present' || signs['supplemental-oxygen-without-ventilation'] !== 'present')
    return [];
  return [
    block(
      'alarm',
      'If the sleepiness is new or worse',
      make(
        'p',
        'act',
        make('strong', '', 'Call the emergency number now.'),
        ' On oxygen, it may be raised carbon dioxide. ',
        link(`${base}urgent/drowsy-or-grey/`, 'Step by step'),
      ),
    ),
  ];
}

function hoursView({ visit, emergency }: LineAnswer, { base }: Context): HTMLElement[] {
  const { disease } = visit;
  const hours = disease === undefined ? undefined : hoursPages[disease];
  if (disease === undefined || !hours || !hoursCount(visit) || emergency.length > 0) return [];
  return [
    block(
      'alarm',
      `${diseaseNames[disease]}: hours count`,
      make('p', 'act', make('strong', '', hours.act), ' ', link(base + hours.page, hours.name)),
    ),
  ];
}

const soonView = ({ soon }: LineAnswer, context: Context): HTMLElement[] =>
  soon.length === 0
    ? []
    : [
        block(
          'care',
          'Within a week',
          make('ul', 'findings', ...soon.map((statement) => statementItem(statement, context))),
        ),
      ];

/** What is urgent only for someone that the line does not name: the diseases in one block, so that the rest stays in view. */
function urgentIfView({ urgentIf }: LineAnswer, context: Context): HTMLElement[] {
  const anyone = urgentIf.filter(({ criterion }) => criterion.disease === 'any');
  const named = Map.groupBy(
    urgentIf.filter(({ criterion }) => criterion.disease !== 'any'),
    ({ criterion }) => criterion.disease as Disease,
  );
  const acts = (findings: readonly Finding[]) =>
    findings
      .slice(0, 2)
      .map((finding) =>
        make('p', 'act', make('strong', '', finding.criterion.act ?? ''), ` ${explainMet(finding, context)}`),
      );
  // One act fits the acute diseases; what another disease asks for has words of its own.
  const acute = new Map([...named].filter(([disease]) => hoursPages[disease] !== undefined));
  const alone = [...named].filter(([disease]) => acute.size === 1 || !acute.has(disease));
  return [
    ...(anyone.length > 0 ? [block('alarm', 'Urgent, depending on who it is', ...acts(anyone))] : []),
    ...(acute.size > 1 ? [ifOneOf(acute, context)] : []),
    ...alone.map(([disease, findings]) => block('alarm', `If this is ${diseaseNames[disease]}`, ...acts(findings))),
  ];
}

function ifOneOf(named: Map<Disease, Finding[]>, context: Context): HTMLElement {
  const [first] = [...named.values()].flat();
  const names = [...named.keys()].map((disease) => diseaseNames[disease]);
  const emergency = [...named.values()].flat().some(({ criterion }) => criterion.urgency === 'emergency');
  return block(
    'alarm',
    `If this is ${names.slice(0, -1).join(', ')} or ${names.at(-1)}`,
    make(
      'p',
      'act',
      make('strong', '', emergency ? 'Call critical care, or the emergency number, now.' : 'Call today.'),
      first ? ` ${explainMet(first, context)} ` : ' ',
      ...[...named.keys()].flatMap((disease, at) => {
        const hours = hoursPages[disease];
        return hours ? [at > 0 ? '\u00a0\u00b7 ' : '', link(context.base + hours.page, hours.name)] : [];
      }),
    ),
  );
}
