/** A plain-text note for the centre, in the order a colleague reads: who, what was measured, what crossed which mark by whose rule, what could not be told. */

import { standingLine } from '../agreement/agreement-words.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Decisions } from '../domain/decision.ts';
import { diseaseNames } from '../domain/diseases.ts';
import type { Measure, Measures } from '../domain/measure.ts';
import { type Reading, supportStatusWords, type Visit, wishWords } from '../domain/visit.ts';
import { byAct, declinedLines, staysAtHome, urgencyTitles } from '../evaluate/act.ts';
import { contradictionWords } from '../evaluate/contradiction-words.ts';
import type { Evidence, Finding } from '../evaluate/evaluate.ts';
import { explain, supportWords, withoutItems } from '../evaluate/explain.ts';
import {
  byDecision,
  isUrgent,
  mostUseful,
  needsAttention,
  tally,
  undecidedUrgent,
  urgentFindings,
  withinAWeek,
} from '../evaluate/group.ts';
import { contradictions } from '../evaluate/implied.ts';
import { outsideUsual, outsideWords } from '../evaluate/outside-usual.ts';
import { figure, flagWords, gasWords, readingWords, signClause } from '../evaluate/say.ts';
import { standingWords } from '../standing.ts';

export interface NoteInput {
  visit: Visit;
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sourceName: (id: string) => string;
  /** of the visit, as the reader typed it */
  date: string;
  /** of the evidence the findings rest on */
  evidenceDate: string;
  /** who answers and how, as typed */
  answers?: string;
  /** hours in 24 and longest time off a support in place, by decision, as typed */
  supportTimes?: Readonly<Record<string, { hours?: string | undefined; timeOff?: string | undefined }>>;
  /** what changed since the last visit, a line each */
  since?: readonly string[];
  /** what will be arranged, by whom, by when, a line each */
  planned?: readonly string[];
  /** what is asked of the physician, as typed */
  asked?: string;
}

export function noteText(input: NoteInput): string {
  const { visit, findings, evidence, decisions, sourceName, date, evidenceDate } = input;
  const { measures } = evidence;
  const lines: string[] = [];
  const section = (title: string, body: string[]) =>
    body.length > 0 && lines.push('', title.toUpperCase(), ...body.map((line) => `- ${line}`));
  lines.push(`Respiratory visit ${date}`, personLine(visit));
  if (input.answers) lines.push(`Answers: ${input.answers}`);
  if (visit.wishes?.length) lines.push(`Wishes: ${visit.wishes.map((wish) => wishWords[wish]).join('; ')}`);

  const urgent = urgentFindings(findings, decisions);
  const soon = withinAWeek(findings, decisions);
  // Where sources agree, the sentence stands once with all of them.
  const withSources = (some: readonly Finding[]): string[] => {
    const sources = new Map<string, Set<string>>();
    for (const finding of some) {
      // The signs stand under 'Present' once; an urgent line names them again, since it may be all that is read.
      const short = !isUrgent(finding.criterion) && finding.criterion.urgency !== 'within-1-week';
      const said = explain(short ? withoutItems(finding) : finding, measures);
      sources.set(said, (sources.get(said) ?? new Set()).add(whose(finding.criterion)));
    }
    return [...sources].map(([said, by]) => `${said} [${[...by].join('; ')}]`);
  };
  // A clinic's own mark is never told as a published one, and its departure goes along with it.
  const whose = (criterion: Criterion) =>
    criterion.local ? standingLine(criterion).replace('Agreed', 'agreed') : sourceName(criterion.source);
  const clinic = findings.find(({ criterion }) => criterion.local)?.criterion.local;
  for (const urgency of ['emergency', 'same-day'] as const)
    section(
      urgencyTitles[urgency],
      byAct(
        urgent.filter(({ criterion }) => criterion.urgency === urgency),
        visit.wishes,
      ).map(({ act, findings: some }) => `${act} Because: ${withSources(some).join(' ')}`),
    );
  section(urgencyTitles['within-1-week'], withSources(soon));
  if (urgent.length + soon.length > 0) section('Declined or not tolerated', declinedLines(visit, decisions));
  const undecided = undecidedUrgent(findings).length;
  if (urgent.length === 0 && undecided > 0)
    lines.push(
      '',
      `Not an all-clear: ${undecided} urgent ${undecided === 1 ? 'criterion' : 'criteria'} cannot be told from what was entered.`,
    );
  section(
    'Answers and readings that disagree',
    contradictions(visit, measures).map((one) => contradictionWords(one, measures, decisions)),
  );
  section(
    'Outside the usual range, and in no finding above or below',
    outsideUsual(visit, findings, evidence).map((one) => outsideWords(one, evidence, sourceName, standingWords)),
  );
  section(
    'Supports',
    Object.entries(visit.supports ?? {}).map(([id, status]) => {
      const { hours, timeOff } = (status === 'in-place' && input.supportTimes?.[id]) || {};
      return [
        `${decisions[id]?.status?.label ?? decisions[id]?.title ?? id}: ${supportStatusWords[status]}`,
        hours?.trim() && `${hours.trim()} hours in 24`,
        timeOff?.trim() && `longest time off it: ${timeOff.trim()}`,
      ]
        .filter(Boolean)
        .join(', ');
    }),
  );
  const readingLine = ([id, reading]: [string, Reading]) => {
    const measure = measures[id];
    if (measure === undefined) return `${id}: ${figure(reading.value)}`;
    const flagged = flagWords(reading, measure, measures);
    const details = [
      gasWords(reading, measure),
      reading.from === undefined && reading.posture,
      reading.method,
      flagged.length > 0 && `flagged: ${flagged.join('; ')}`,
    ].filter(Boolean);
    return `${labelOf(measure)}: ${readingWords(reading, measure)}${details.length > 0 ? ` (${details.join('; ')})` : ''}`;
  };
  const readings = Object.entries(visit.readings);
  section('Measured', readings.filter(([, reading]) => !reading.from).map(readingLine));
  section('Worked out from these', readings.filter(([, reading]) => reading.from).map(readingLine));
  section(
    'Not done',
    Object.entries(visit.notDone ?? {}).map(([id, because]) => `${measures[id]?.label ?? id}: ${because}`),
  );
  section('Since the last visit', [...(input.since ?? [])]);
  const signs = Object.entries(visit.signs);
  section(
    'Present',
    signs.filter(([, sign]) => sign === 'present').map(([id]) => measures[id]?.label ?? id),
  );
  // In one line: a long list of what is not there would bury what is.
  const absent = signs.filter(([, sign]) => sign === 'absent').map(([id]) => measures[id]?.label ?? id);
  section('Asked and absent', absent.length > 0 ? [absent.join('; ')] : []);
  for (const { decision, categories } of byDecision(findings, decisions)) {
    const met = categories.acting.filter(
      (finding) => needsAttention(finding) && !urgent.includes(finding) && !soon.includes(finding),
    );
    const title = decisions[decision]?.title ?? decision;
    const local = met.filter(({ criterion }) => criterion.local);
    const published = met.filter(({ criterion }) => !criterion.local);
    const support = met[0]?.support && met[0].support !== 'none' ? [supportWords[met[0].support]] : [];
    section(`Criteria of ${clinic?.clinic} met: ${title}`, [
      ...withSources(local),
      ...(published.length === 0 ? support : []),
    ]);
    section(
      decisions[decision]?.coverage
        ? `${title} (payer rules met: not clinical need, and not a statement that the person qualifies)`
        : `Published criteria met: ${title}`,
      [...withSources(published), ...(published.length > 0 ? support : [])],
    );
  }
  const { folded } = tally(findings);
  if (folded > 0)
    lines.push(
      '',
      `${folded} more met among study figures and criteria not yet checked: they are on the sheet, and no decision rests on them.`,
    );
  section(
    'Most useful to measure or ask next',
    mostUseful(findings)
      .slice(0, 6)
      .map(
        ({ measure, count }) => `${measures[measure]?.label ?? `the person's ${measure}`} (helps to decide ${count})`,
      ),
  );
  section('Planned', [...(input.planned ?? [])]);
  section('Asked of the physician', input.asked ? input.asked.split('\n').filter((line) => line.trim() !== '') : []);
  lines.push(
    '',
    `Findings are published criteria as held on ${evidenceDate}${clinic ? `, and beside them the criteria that ${clinic.clinic} agreed on ${clinic.agreed}` : ''}: not a decision. They are for the physician and the centre to weigh with the person, their plan and local policy.`,
  );
  return lines.join('\n');
}

/**
 * The same visit in plain words, for the person and the people around them: what was measured, which talks it opens,
 * what will be done. No thresholds, no sources: those are in the note for the centre.
 */
export function plainNote({ visit, findings, evidence, decisions, date, planned, asked }: NoteInput): string {
  const { measures } = evidence;
  const limited = staysAtHome(visit.wishes);
  const lines = [
    `Your breathing visit on ${date}`,
    '',
    // Before the numbers; and not against what the person has said they want.
    `If you become very sleepy, confused, grey or very breathless, or are choking or cannot clear phlegm: ${limited ? 'follow your own plan, and call the team named in it at once. You can ask for other help at any time.' : 'call the emergency number.'}`,
    '',
  ];
  const measured = Object.entries(visit.readings)
    .filter(([, reading]) => !reading.from)
    .flatMap(([id, reading]) =>
      measures[id]
        ? [
            [
              `${labelOf(measures[id])}: ${readingWords(reading, measures[id])}`,
              gasWords(reading, measures[id]),
              ...flagWords(reading, measures[id], measures),
            ]
              .filter(Boolean)
              .join(', '),
          ]
        : [],
    );
  if (measured.length > 0) lines.push('What we measured', ...measured.map((line) => `- ${line}`), '');
  const urgent = urgentFindings(findings, decisions);
  const emergency = urgent.some(({ criterion }) => criterion.urgency === 'emergency');
  if (urgent.length > 0)
    lines.push(
      emergency
        ? limited
          ? 'Something found today needs help now, by your own plan'
          : 'Something found today needs help now'
        : 'Something found today needs a call today',
      ...byAct(urgent, visit.wishes).map(
        ({ act, findings: some }) =>
          `- ${act} ${[...new Set(some.map((one) => plainReason(one, measures)))].join(' ')}`,
      ),
      ...declinedLines(visit, decisions).map((line) => `- ${line}`),
      '',
    );
  const soon = withinAWeek(findings, decisions);
  if (soon.length > 0)
    lines.push(
      'To be looked at within a week',
      ...[...new Set(soon.map((one) => `- ${plainReason(one, measures)}`))],
      '',
    );
  const unusual = outsideUsual(visit, findings, evidence);
  if (unusual.length > 0)
    lines.push(
      'Not in the usual range, so we will tell the team',
      ...unusual.map(
        ({ measure, reading }) =>
          `- ${plainName(measures[measure], measure)}: ${measures[measure] ? readingWords(reading, measures[measure]) : ''}`,
      ),
      '',
    );
  const open = byDecision(findings, decisions).filter(
    ({ decision, categories }) =>
      !decisions[decision]?.coverage &&
      categories.acting.some((finding) => needsAttention(finding) && !urgent.includes(finding)),
  );
  if (open.length > 0)
    lines.push(
      'What we would like to talk about with you and the team',
      ...open.map(
        ({ decision }) => `- ${decisions[decision]?.title ?? decision}: ${decisions[decision]?.question ?? ''}`,
      ),
      '',
    );
  if (planned?.length) lines.push('What will be arranged', ...planned.map((line) => `- ${line}`), '');
  if (asked)
    lines.push(
      'What we asked the doctor',
      ...asked
        .split('\n')
        .filter((line) => line.trim() !== '')
        .map((line) => `- ${line}`),
      '',
    );
  lines.push('Nothing here is decided without you. Numbers are one part of the picture; how you feel is another.');
  return lines.join('\n');
}

const plainName = (measure: Measure | undefined, id: string): string => measure?.plain ?? measure?.short ?? id;

/** What a finding rests on, without its threshold: 'Oxygen level (saturation): 86 %.' */
function plainReason({ parts }: Finding, measures: Measures): string {
  const said = parts.flatMap(({ measure: id, truth, assumed, condition, reading, impliedBy, items = [] }) => {
    const measure = measures[id];
    if (truth !== 'met' || assumed || measure === undefined) return [];
    const from = impliedBy === undefined ? measure : measures[impliedBy];
    const value =
      reading && from?.kind === 'number' ? `${plainName(from, id)}: ${readingWords(reading, from)}` : undefined;
    if (measure.kind === 'number') return value === undefined ? [] : [value];
    const named = items.map((item) => measures[item]?.short ?? item).join(', ');
    const answer = signClause(id, condition.comparator === 'absent' ? 'absent' : 'present', measures);
    return [`${answer}${named ? ` (${named})` : ''}${value ? ` (${value})` : ''}`];
  });
  const words = said.join('; ');
  return words === '' ? '' : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

/** What was breathed stands with the reading: a saturation on oxygen must not be called one on air. */
const labelOf = ({ label }: Measure): string => label.replace(/, on air$/, '');

const personLine = ({ disease, ageYears, sex, heightCm }: Visit): string =>
  [
    disease ? diseaseNames[disease] : 'disease not given',
    ageYears === undefined ? 'age not given' : `${figure(ageYears)} years`,
    sex ?? 'sex not given',
    heightCm === undefined ? '' : `${figure(Math.round(heightCm))} cm`,
  ]
    .filter(Boolean)
    .join(', ');
