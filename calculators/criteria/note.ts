/** A plain-text note for the centre, in the order a colleague reads: who, what was measured, what crossed which mark by whose rule, what could not be told. */
import { standingLine } from './agreement-words.ts';
import type { Criterion } from './criterion.ts';
import type { Decisions } from './decision.ts';
import { diseaseNames } from './diseases.ts';
import type { Evidence, Finding } from './evaluate.ts';
import { explain, supportWords } from './explain.ts';
import { alarms, byDecision, untoldAlarms, wouldSettle } from './group.ts';
import type { Measure } from './measure.ts';
import { figure, flagWords, gasWords, readingWords } from './say.ts';
import { type Reading, supportStatusWords, type Visit, wishWords } from './visit.ts';

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

  const urgent = alarms(findings);
  // Where sources agree, the sentence stands once with all of them.
  const withSources = (some: readonly Finding[]): string[] => {
    const sources = new Map<string, Set<string>>();
    for (const finding of some) {
      const said = explain(finding, measures);
      sources.set(said, (sources.get(said) ?? new Set()).add(whose(finding.criterion)));
    }
    return [...sources].map(([said, by]) => `${said} [${[...by].join('; ')}]`);
  };
  // A clinic's own mark is never told as a published one, and its departure goes along with it.
  const whose = (criterion: Criterion) =>
    criterion.local ? standingLine(criterion).replace('Agreed', 'agreed') : sourceName(criterion.source);
  const clinic = findings.find(({ criterion }) => criterion.local)?.criterion.local;
  section('Urgent marks met', withSources(urgent));
  const untold = untoldAlarms(findings).length;
  if (urgent.length === 0 && untold > 0)
    lines.push('', `No urgent mark met by what was entered; ${untold} could not be told.`);
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
  for (const { decision, shelves } of byDecision(findings, decisions, evidence.decisionOf)) {
    const met = shelves.acted.filter((finding) => finding.result === 'met' && !urgent.includes(finding));
    const title = decisions[decision]?.title ?? decision;
    const local = met.filter(({ criterion }) => criterion.local);
    const published = met.filter(({ criterion }) => !criterion.local);
    const support = met[0]?.support && met[0].support !== 'none' ? [supportWords[met[0].support]] : [];
    section(`Marks of ${clinic?.clinic} met: ${title}`, [
      ...withSources(local),
      ...(published.length === 0 ? support : []),
    ]);
    section(
      decisions[decision]?.coverage
        ? `${title} (payer rules met: not clinical need, and not a statement that the person qualifies)`
        : `Published marks met: ${title}`,
      [...withSources(published), ...(published.length > 0 ? support : [])],
    );
  }
  const next = wouldSettle(findings).slice(0, 6);
  section(
    'Could not be told without',
    next.map(({ measure, count }) => `${measures[measure]?.label ?? measure} (would help to settle ${count})`),
  );
  section('Planned', [...(input.planned ?? [])]);
  section('Asked of the physician', input.asked ? input.asked.split('\n').filter((line) => line.trim() !== '') : []);
  lines.push(
    '',
    `Findings are published criteria as held on ${evidenceDate}${clinic ? `, and beside them the marks that ${clinic.clinic} agreed on ${clinic.agreed}` : ''}: not a decision. They are for the physician and the centre to weigh with the person, their plan and local policy.`,
  );
  return lines.join('\n');
}

/**
 * The same visit in plain words, for the person and the people around them: what was measured, which talks it opens,
 * what will be done. No thresholds, no sources: those are in the note for the centre.
 */
export function plainNote({ visit, findings, evidence, decisions, date, planned, asked }: NoteInput): string {
  const { measures } = evidence;
  const limited = visit.wishes?.some((wish) => wish === 'no-hospital' || wish === 'comfort-only');
  const lines = [
    `Your breathing visit on ${date}`,
    '',
    // Before the numbers; and not against what the person has said they want.
    `If you become very sleepy, confused, grey or very breathless, or cannot clear your throat: ${limited ? 'follow your own plan, and call the team named in it at once. You can ask for other help at any time.' : 'call the emergency number.'}`,
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
  const open = byDecision(findings, decisions, evidence.decisionOf).filter(
    ({ decision, shelves }) => !decisions[decision]?.coverage && shelves.acted.some(({ result }) => result === 'met'),
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
