/** A plain-text note for the centre, in the order a colleague reads: who, what was measured, what crossed which mark by whose rule, what could not be told. */

import { standingLine } from '../agreement/agreement-words.ts';
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
  const { visit, findings, decisions, date } = input;
  const urgent = urgentFindings(findings, decisions);
  const soon = withinAWeek(findings, decisions);
  return [
    `Respiratory visit ${date}`,
    personLine(visit),
    ...(input.answers ? [`Answers: ${input.answers}`] : []),
    ...(visit.wishes?.length ? [`Wishes: ${visit.wishes.map((wish) => wishWords[wish]).join('; ')}`] : []),
    ...urgentLines(input, urgent, soon),
    ...enteredLines(input),
    ...byDecision(findings, decisions).flatMap((one) => decisionLines(input, one, [...urgent, ...soon])),
    ...closingLines(input),
  ].join('\n');
}

const section = (title: string, body: readonly string[]): string[] =>
  body.length > 0 ? ['', title.toUpperCase(), ...body.map((line) => `- ${line}`)] : [];

/** The clinic whose own criteria are among the findings. */
const clinicIn = ({ findings }: NoteInput) => findings.find(({ criterion }) => criterion.local)?.criterion.local;

/** The findings in words, each sentence once, with all the sources that say it. */
function withSources({ evidence, sourceName }: NoteInput, findings: readonly Finding[]): string[] {
  const sources = new Map<string, Set<string>>();
  for (const finding of findings) {
    const { criterion } = finding;
    // The signs are listed once under 'Present'; an urgent line names them again, since it may be all that is read.
    const short = !isUrgent(criterion) && criterion.urgency !== 'within-1-week';
    const words = explain(short ? withoutItems(finding) : finding, evidence.measures);
    // A clinic's own criterion is never shown as a published one, and how it departs is named with it.
    const source = criterion.local ? standingLine(criterion).replace('Agreed', 'agreed') : sourceName(criterion.source);
    sources.set(words, (sources.get(words) ?? new Set()).add(source));
  }
  return [...sources].map(([words, by]) => `${words} [${[...by].join('; ')}]`);
}

/** What must not wait, what is missing to tell, and what was entered but does not fit. */
function urgentLines(input: NoteInput, urgent: readonly Finding[], soon: readonly Finding[]): string[] {
  const { visit, findings, evidence, decisions, sourceName } = input;
  const { measures } = evidence;
  const undecided = undecidedUrgent(findings).length;
  return [
    ...(['emergency', 'same-day'] as const).flatMap((urgency) =>
      section(
        urgencyTitles[urgency],
        byAct(
          urgent.filter(({ criterion }) => criterion.urgency === urgency),
          visit.wishes,
        ).map(({ act, findings: some }) => `${act} Because: ${withSources(input, some).join(' ')}`),
      ),
    ),
    ...section(urgencyTitles['within-1-week'], withSources(input, soon)),
    ...(urgent.length + soon.length > 0 ? section('Declined or not tolerated', declinedLines(visit, decisions)) : []),
    ...(urgent.length === 0 && undecided > 0
      ? [
          '',
          `Not an all-clear: ${undecided} urgent ${undecided === 1 ? 'criterion' : 'criteria'} cannot be told from what was entered.`,
        ]
      : []),
    ...section(
      'Answers and readings that disagree',
      contradictions(visit, measures).map((one) => contradictionWords(one, measures, decisions)),
    ),
    ...section(
      'Outside the usual range, and in no finding above or below',
      outsideUsual(visit, findings, evidence).map((one) => outsideWords(one, evidence, sourceName, standingWords)),
    ),
  ];
}

/** What was entered: supports, readings, what was not done, what changed, signs. */
function enteredLines({ visit, evidence: { measures }, decisions, supportTimes, since = [] }: NoteInput): string[] {
  const supports = Object.entries(visit.supports ?? {}).map(([id, status]) => {
    const { hours, timeOff } = (status === 'in-place' && supportTimes?.[id]) || {};
    return [
      `${decisions[id]?.status?.label ?? decisions[id]?.title ?? id}: ${supportStatusWords[status]}`,
      hours?.trim() && `${hours.trim()} hours in 24`,
      timeOff?.trim() && `longest time off it: ${timeOff.trim()}`,
    ]
      .filter(Boolean)
      .join(', ');
  });
  const readings = Object.entries(visit.readings);
  const lineOf = ([id, reading]: [string, Reading]) => readingLine(id, reading, measures);
  const label = (id: string) => measures[id]?.label ?? id;
  const answered = (answer: 'present' | 'absent') =>
    Object.entries(visit.signs)
      .filter(([, sign]) => sign === answer)
      .map(([id]) => label(id));
  const absent = answered('absent');
  return [
    ...section('Supports', supports),
    ...section('Measured', readings.filter(([, reading]) => !reading.from).map(lineOf)),
    ...section('Worked out from these', readings.filter(([, reading]) => reading.from).map(lineOf)),
    ...section(
      'Not done',
      Object.entries(visit.notDone ?? {}).map(([id, because]) => `${label(id)}: ${because}`),
    ),
    ...section('Since the last visit', since),
    ...section('Present', answered('present')),
    // In one line: a long list of what is absent would hide what is present.
    ...section('Asked and absent', absent.length > 0 ? [absent.join('; ')] : []),
  ];
}

function readingLine(id: string, reading: Reading, measures: Measures): string {
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
}

/** What was met of one decision: the clinic's own criteria first, then the published ones. */
function decisionLines(
  input: NoteInput,
  { decision, categories }: ReturnType<typeof byDecision>[number],
  named: readonly Finding[],
): string[] {
  const met = categories.acting.filter((finding) => needsAttention(finding) && !named.includes(finding));
  const { title = decision, coverage } = input.decisions[decision] ?? {};
  const local = met.filter(({ criterion }) => criterion.local);
  const published = met.filter(({ criterion }) => !criterion.local);
  const support = met[0]?.support && met[0].support !== 'none' ? [supportWords[met[0].support]] : [];
  return [
    ...section(`Criteria of ${clinicIn(input)?.clinic} met: ${title}`, [
      ...withSources(input, local),
      ...(published.length === 0 ? support : []),
    ]),
    ...section(
      coverage
        ? `${title} (payer rules met: not clinical need, and not a statement that the person qualifies)`
        : `Published criteria met: ${title}`,
      [...withSources(input, published), ...(published.length > 0 ? support : [])],
    ),
  ];
}

/** What to do next, and what the findings rest on. */
function closingLines(input: NoteInput): string[] {
  const { findings, evidence, evidenceDate, planned = [], asked = '' } = input;
  const { folded } = tally(findings);
  const clinic = clinicIn(input);
  return [
    ...(folded > 0
      ? [
          '',
          `${folded} more met among study figures and criteria not yet checked: they are on the sheet, and no decision rests on them.`,
        ]
      : []),
    ...section(
      'Most useful to measure or ask next',
      mostUseful(findings)
        .slice(0, 6)
        .map(
          ({ measure, count }) =>
            `${evidence.measures[measure]?.label ?? `the person's ${measure}`} (helps to decide ${count})`,
        ),
    ),
    ...section('Planned', planned),
    ...section('Asked of the physician', filledLines(asked)),
    '',
    `Findings are published criteria as held on ${evidenceDate}${clinic ? `, and beside them the criteria that ${clinic.clinic} agreed on ${clinic.agreed}` : ''}: not a decision. They are for the physician and the centre to weigh with the person, their plan and local policy.`,
  ];
}

const filledLines = (text: string): string[] => text.split('\n').filter((line) => line.trim() !== '');

/**
 * The same visit in plain words, for the person and the people around them: what was measured, which talks it opens,
 * what will be done. No thresholds, no sources: those are in the note for the centre.
 */
export function plainNote(input: NoteInput): string {
  const { visit, findings, evidence, decisions, date, planned = [], asked = '' } = input;
  const { measures } = evidence;
  const urgent = urgentFindings(findings, decisions);
  const open = byDecision(findings, decisions).filter(
    ({ decision, categories }) =>
      !decisions[decision]?.coverage &&
      categories.acting.some((finding) => needsAttention(finding) && !urgent.includes(finding)),
  );
  return [
    `Your breathing visit on ${date}`,
    '',
    // Before the numbers; and not against what the person has said they want.
    `If you become very sleepy, confused, grey or very breathless, or are choking or cannot clear phlegm: ${staysAtHome(visit.wishes) ? 'follow your own plan, and call the team named in it at once. You can ask for other help at any time.' : 'call the emergency number.'}`,
    '',
    ...plainSection('What we measured', plainReadings(visit, measures)),
    ...plainUrgent(input, urgent),
    ...plainSection('To be looked at within a week', [
      ...new Set(withinAWeek(findings, decisions).map((one) => plainReason(one, measures))),
    ]),
    ...plainSection(
      'Not in the usual range, so we will tell the team',
      outsideUsual(visit, findings, evidence).map(
        ({ measure, reading }) =>
          `${plainName(measures[measure], measure)}: ${measures[measure] ? readingWords(reading, measures[measure]) : ''}`,
      ),
    ),
    ...plainSection(
      'What we would like to talk about with you and the team',
      open.map(({ decision }) => `${decisions[decision]?.title ?? decision}: ${decisions[decision]?.question ?? ''}`),
    ),
    ...plainSection('What will be arranged', planned),
    ...(asked ? ['What we asked the doctor', ...filledLines(asked).map((line) => `- ${line}`), ''] : []),
    'Nothing here is decided without you. Numbers are one part of the picture; how you feel is another.',
  ].join('\n');
}

const plainSection = (title: string, body: readonly string[]): string[] =>
  body.length > 0 ? [title, ...body.map((line) => `- ${line}`), ''] : [];

const plainReadings = ({ readings }: Visit, measures: Measures): string[] =>
  Object.entries(readings).flatMap(([id, reading]) => {
    const measure = measures[id];
    if (reading.from || measure === undefined) return [];
    const words = [
      `${labelOf(measure)}: ${readingWords(reading, measure)}`,
      gasWords(reading, measure),
      ...flagWords(reading, measure, measures),
    ];
    return [words.filter(Boolean).join(', ')];
  });

function plainUrgent({ visit, evidence, decisions }: NoteInput, urgent: readonly Finding[]): string[] {
  const isEmergency = urgent.some(({ criterion }) => criterion.urgency === 'emergency');
  const ownPlan = staysAtHome(visit.wishes) ? ', by your own plan' : '';
  return plainSection(
    isEmergency ? `Something found today needs help now${ownPlan}` : 'Something found today needs a call today',
    urgent.length === 0
      ? []
      : [
          ...byAct(urgent, visit.wishes).map(
            ({ act, findings: some }) =>
              `${act} ${[...new Set(some.map((one) => plainReason(one, evidence.measures)))].join(' ')}`,
          ),
          ...declinedLines(visit, decisions),
        ],
  );
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
    ageYears === undefined ? 'age not given' : ageWords(ageYears),
    sex ?? 'sex not given',
    heightCm === undefined ? '' : `${figure(Math.round(heightCm))} cm`,
  ]
    .filter(Boolean)
    .join(', ');

/** Months below two years, as they are counted at the bedside. */
const ageWords = (years: number): string =>
  years < 2 ? `${Math.round(years * 12)} months` : `${figure(Number(years.toFixed(1)))} years`;
