/**
 * A plain-text note for the centre, in the order in which a colleague reads: who, why I write and what I ask; what is
 * urgent; what changed; what is met and by whose rule; figures with their conditions; supports, wishes and how the person
 * answers; what could not be told, and why; the plan. Statistics and payer rules stand in it only when they are asked for.
 */

import { digestWords } from '../agreement/digest.ts';
import { dateOf, dayCount } from '../calendar.ts';
import { isChild } from '../domain/age-and-sex.ts';
import { diseaseNames } from '../domain/diseases.ts';
import { supportStatusWords, type Visit, wishWords } from '../domain/visit.ts';
import { byAct, declinedLines, urgencyTitles } from '../evaluate/act.ts';
import { contradictionWords } from '../evaluate/contradiction-words.ts';
import type { Finding } from '../evaluate/evaluate.ts';
import { byDecision, needsAttention, urgentFindings, withinAWeek } from '../evaluate/group.ts';
import { contradictions } from '../evaluate/implied.ts';
import { outsideUsual, outsideWords } from '../evaluate/outside-usual.ts';
import { figure } from '../evaluate/say.ts';
import { standingWords } from '../standing.ts';
import { changedAnswers } from './note-changes.ts';
import { figureWords } from './note-figures.ts';
import { decisionLines, sentencesOf, setAside, statementsOf } from './note-findings.ts';
import { dateIn, filledLines, inOrderOfDates, type NoteInput } from './note-input.ts';
import { notKnownLines } from './note-not-known.ts';
import { closed, listed, lowerFirst, upperFirst } from './sentences.ts';

export type { NoteInput } from './note-input.ts';
export { plainNote } from './plain-note.ts';

interface Leading {
  urgent: Finding[];
  soon: Finding[];
}

export function noteText(input: NoteInput): string {
  const leading = {
    urgent: urgentFindings(input.findings, input.decisions),
    soon: withinAWeek(input.findings, input.decisions),
  };
  const named = [...leading.urgent, ...leading.soon];
  return [
    `Respiratory visit on ${dateIn(input, input.date)}`,
    personLine(input.visit),
    ...reasonLines(input, leading),
    ...urgentLines(input, leading),
    ...sinceSection(input),
    ...findingSections(input, named),
    ...figureSection(input),
    ...supportSection(input),
    ...section('Not known', notKnownLines(input, named, leading.urgent.length > 0)),
    ...section('Plan', planLines(input)),
    ...statisticsSections(input, named),
    '',
    closingLine(input),
  ].join('\n');
}

const section = (title: string, body: readonly string[]): string[] =>
  body.length > 0 ? ['', title.toUpperCase(), ...body.map((line) => `- ${line}`)] : [];

// --- who, why, what is asked -----------------------------------------------------------------------------------------

function personLine({ disease, ageYears, sex, heightCm }: Visit): string {
  const child = ageYears !== undefined && isChild(ageYears);
  const who =
    sex === undefined ? 'Sex not given' : { female: ['Woman', 'Girl'], male: ['Man', 'Boy'] }[sex][child ? 1 : 0];
  return [
    who,
    ageYears === undefined ? 'age not given' : ageWords(ageYears),
    disease ? lowerFirst(diseaseNames[disease]) : 'disease not given',
    heightCm === undefined ? '' : `${figure(Math.round(heightCm))} cm`,
  ]
    .filter(Boolean)
    .join(', ');
}

/** Months below two years, as they are counted at the bedside. */
const ageWords = (years: number): string =>
  years < 2 ? `${Math.round(years * 12)} months` : `${figure(Number(years.toFixed(1)))} years`;

/**
 * What there is to act on, in a few words: the support with how far it has come, or what the criteria are for. Only what is
 * new where there is a visit to compare with.
 */
function openDecisions({ visit, findings, decisions, previous }: NoteInput, onlyNew: boolean): string[] {
  const before = new Set(previous?.findings.filter(needsAttention).map(({ criterion }) => criterion.id));
  return byDecision(findings, decisions)
    .sort((a, b) => Number(a.decision === 'watching-closer') - Number(b.decision === 'watching-closer'))
    .flatMap(({ decision: id, categories }) => {
      const decision = decisions[id];
      const met = categories.acting.filter((one) => needsAttention(one) && !(onlyNew && before.has(one.criterion.id)));
      if (met.length === 0 || decision === undefined || decision.coverage || id === 'urgent-help') return [];
      const status = visit.supports?.[id] ?? 'none';
      return [
        (spoken[id] ?? lowerFirst(decision.title)) + (status === 'none' ? '' : ` (${supportStatusWords[status]})`),
      ];
    });
}

/** Titles of decisions that would not read well inside a sentence. */
const spoken: Readonly<Record<string, string>> = {
  'watching-closer': 'closer watching',
  'invasive-ventilation': 'a conversation about later care',
  procedures: 'preparing for a procedure',
};

function reasonLines(input: NoteInput, leading: Leading): string[] {
  return [`Reason for this note: ${reasonWords(input, leading)}.`, ...askLines(input, leading)];
}

function reasonWords(input: NoteInput, { urgent, soon }: Leading): string {
  const { previous } = input;
  const isNew = openDecisions(input, true);
  const open = openDecisions(input, false);
  const found =
    previous && isNew.length > 0
      ? `since ${dateIn(input, previous.date)} new criteria are met for ${listed(isNew)}`
      : open.length > 0
        ? `criteria are met for ${listed(open)}`
        : 'to report this visit';
  if (urgent.some(({ criterion }) => criterion.urgency === 'emergency')) return 'an emergency was found';
  if (urgent.length > 0) return `something was found that needs a call the same day; ${found}`;
  return soon.length > 0 ? `something was found that should be seen within a week; ${found}` : found;
}

function askLines(input: NoteInput, { urgent, soon }: Leading): string[] {
  const { asked = '', askedOf = '', askedBy = '', date } = input;
  const of = askedOf.trim() === '' ? '' : ` ${askedOf.trim()}`;
  const by = askedBy === '' ? '' : `, by ${dateIn(input, askedBy)}`;
  const lines = filledLines(asked);
  if (lines.length > 1) return [`I ask${of}${by}:`, ...lines.map((line) => `- ${line}`)];
  if (lines.length === 1) return [`I ask${of}${by}: ${closed(lines[0] ?? '')}`];
  if (urgent.some(({ criterion }) => criterion.urgency === 'emergency'))
    return [`I ask${of} for help now: see Emergency.`];
  if (urgent.length > 0) return [`I ask${of} for an answer today: see Same day.`];
  const day = dayCount(date);
  const week = Number.isNaN(day) ? '' : `, by ${dateIn(input, dateOf(day + 7))}`;
  if (soon.length > 0) return [`I ask${of} for a review within a week${by || week}: see Within a week.`];
  const open = openDecisions(input, input.previous !== undefined);
  return open.length > 0 ? [`I ask${of} for an opinion on ${listed(open)}${by}.`] : [];
}

// --- what must not wait ----------------------------------------------------------------------------------------------

/** What must not wait, and what was entered but does not fit. */
function urgentLines(input: NoteInput, { urgent, soon }: Leading): string[] {
  const { visit, findings, evidence, decisions, sourceName } = input;
  const { measures } = evidence;
  return [
    ...(['emergency', 'same-day'] as const).flatMap((urgency) =>
      section(
        urgencyTitles[urgency],
        byAct(
          urgent.filter(({ criterion }) => criterion.urgency === urgency),
          visit.wishes,
        ).map(({ act, findings: some }) => `${act} Because: ${sentencesOf(input, some).join(' ')}`),
      ),
    ),
    ...section(urgencyTitles['within-1-week'], sentencesOf(input, soon)),
    ...(urgent.length + soon.length > 0 ? section('Declined or not tolerated', declinedLines(visit, decisions)) : []),
    ...section(
      'Answers and readings that disagree',
      contradictions(visit, measures).map((one) => contradictionWords(one, measures, decisions)),
    ),
    ...section(
      'Outside the usual range, and not part of any finding in this note',
      outsideUsual(visit, findings, evidence).map((one) =>
        upperFirst(
          outsideWords(one, evidence, sourceName, standingWords).replace(
            / This reading meets no published criterion.*$/,
            '',
          ),
        ),
      ),
    ),
  ];
}

// --- what changed, what is met ---------------------------------------------------------------------------------------

function sinceSection(input: NoteInput): string[] {
  const { previous, since = [] } = input;
  return section(previous ? `Since ${dateIn(input, previous.date)}` : 'Since the last visit', [
    ...since,
    ...changedAnswers(input),
  ]);
}

/** New findings first where there is a visit to compare with; what was met then and is met now follows. */
function findingSections(input: NoteInput, named: readonly Finding[]): string[] {
  const { previous, findings } = input;
  if (previous === undefined) return section('Findings', decisionLines(input, named));
  const before = new Set(previous.findings.filter(needsAttention).map(({ criterion }) => criterion.id));
  const isOld = ({ criterion }: Finding) => before.has(criterion.id);
  return [
    ...section('New findings', decisionLines(input, [...named, ...findings.filter(isOld)])),
    ...section('Met last time and now', decisionLines(input, [...named, ...findings.filter((one) => !isOld(one))])),
  ];
}

// --- figures, supports, plan -----------------------------------------------------------------------------------------

function figureSection({ visit, evidence: { measures } }: NoteInput): string[] {
  const readings = Object.entries(visit.readings);
  const told = (worked: boolean) =>
    readings
      .filter(([, reading]) => (reading.from !== undefined) === worked)
      .map(([id, reading]) => figureWords(id, reading, measures));
  const answered = (answer: 'present' | 'absent') =>
    Object.entries(visit.signs)
      .filter(([, sign]) => sign === answer)
      .map(([id]) => measures[id]?.short ?? id);
  const line = (title: string, items: readonly string[]) => (items.length > 0 ? [`${title}: ${items.join('; ')}`] : []);
  return section('Figures and answers', [
    ...line('Measured', told(false)),
    ...line('Calculated from these', told(true)),
    ...line('Present', answered('present')),
    ...line('Asked about and absent', answered('absent')),
  ]);
}

function supportSection(input: NoteInput): string[] {
  const { visit, decisions, supportTimes, answers = '' } = input;
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
  const wishes = (visit.wishes ?? []).map((wish) => lowerFirst(wishWords[wish]));
  return section('Supports, wishes, communication', [
    `Supports: ${supports.length > 0 ? supports.join('; ') : 'not recorded'}`,
    `Wishes: ${wishes.length > 0 ? wishes.join('; ') : 'not recorded'}`,
    `Who answers, and how: ${answers.trim() === '' ? 'not recorded' : answers.trim()}`,
    ...(input.chosen ?? []),
    ...(visit.remark?.trim() ? [`Remark: ${visit.remark.replace(/\s+/g, ' ').trim()}`] : []),
  ]);
}

const planLines = (input: NoteInput): string[] =>
  inOrderOfDates(input.plan ?? []).map(({ what, owner, due, state }) => {
    const who = [owner.trim(), due && `by ${dateIn(input, due)}`].filter(Boolean).join(', ');
    return `${what.trim()}${who === '' ? ': no person and no date yet' : `: ${who}`} (${state})`;
  });

// --- when asked for --------------------------------------------------------------------------------------------------

function statisticsSections(input: NoteInput, named: readonly Finding[]): string[] {
  if (!input.withStatistics) return [];
  const { payer, study } = setAside(input, named);
  const told = (some: readonly Finding[]) => (some.length > 0 ? [statementsOf(input, some)] : []);
  return [
    ...section('Rates and dates', input.statistics ?? []),
    ...section('Study figures met (not thresholds to act on)', told(study)),
    ...section('Payer rules met (not clinical need, and not a statement that the person qualifies)', told(payer)),
  ];
}

/** What the findings rest on, in one line. */
function closingLine(input: NoteInput): string {
  const { findings, evidenceDate, agreement } = input;
  const local = findings.find(({ criterion }) => criterion.local)?.criterion.local;
  const clinic = agreement
    ? `, and with the agreement of ${agreement.name} (${digestWords(agreement.digest)}${(agreement.cautions ?? []).map((caution) => `; ${caution.charAt(0).toLowerCase()}${caution.slice(1).replace(/\.$/, '')}`).join('')})`
    : local
      ? `, and with the criteria that ${local.clinic} agreed on ${dateIn(input, local.agreed)}`
      : '';
  return `Findings compare this visit with the criteria in the handbook's edition of ${dateIn(input, evidenceDate)}${clinic}. They are not a decision. The physician and the centre weigh them with the person, their plan and local policy.`;
}
