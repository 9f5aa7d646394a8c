/**
 * The same visit in plain words, for the person and the people around them: what to do now when it cannot wait, what was
 * measured and what it means, what we will do, what the person wants, what to watch for and whom to call. No thresholds,
 * no sources and no questions for clinicians: those are in the note for the centre.
 */
import { isChild } from '../domain/age-and-sex.ts';
import type { Measure, Measures, NumberMeasure } from '../domain/measure.ts';
import type { Reading } from '../domain/visit.ts';
import { byAct, staysAtHome } from '../evaluate/act.ts';
import { doubtsIn } from '../evaluate/doubt.ts';
import type { Finding, Part } from '../evaluate/evaluate.ts';
import { byDecision, categoryOf, needsAttention, urgentFindings, withinAWeek } from '../evaluate/group.ts';
import { outsideUsual } from '../evaluate/outside-usual.ts';
import { flagWords, readingWords, signClause } from '../evaluate/say.ts';
import { rounded } from './note-figures.ts';
import { dateIn, filledLines, inOrderOfDates, type NoteInput } from './note-input.ts';
import { plainAct, plainDecisions, plainMeasures, plainSigns, plainWishes } from './plain-words.ts';
import { closed, lowerFirst, upperFirst } from './sentences.ts';

export function plainNote(input: NoteInput): string {
  const { visit, findings, evidence, decisions } = input;
  const urgent = urgentFindings(findings, decisions);
  const soon = withinAWeek(findings, decisions);
  const whose = visit.ageYears !== undefined && isChild(visit.ageYears) ? "Your child's" : 'Your';
  return [
    ...firstLines(input, urgent),
    `${whose} breathing visit on ${dateIn(input, input.date)}`,
    '',
    ...plainSection('Why this is urgent', reasonsOf(urgent, evidence.measures)),
    ...plainSection('For the team to look at within a week', reasonsOf(soon, evidence.measures)),
    ...(urgent.length === 0 ? callLines(input) : []),
    ...plainSection('What we measured, and what it means', measuredLines(input)),
    ...plainSection('What you told us, and what we saw', toldLines(input)),
    ...plainSection('What we want to talk about with you', talkLines(input)),
    ...plainSection('What we will do', planLines(input)),
    ...plainSection('What we asked for', askedLines(input)),
    ...plainSection(`${whose} wishes`, wishLines(input)),
    ...(urgent.length > 0 ? callLines(input) : []),
    ...plainSection('Whom to call', contactLines(input)),
    'Nothing is decided without you. Numbers are one part of the picture. How you feel is another.',
  ].join('\n');
}

const plainSection = (title: string, body: readonly string[]): string[] =>
  body.length > 0 ? [title, ...body.map((line) => `- ${line}`), ''] : [];

// --- what cannot wait ------------------------------------------------------------------------------------------------

/** In an emergency the first line says what to do now, before the title of the page. */
function firstLines({ visit }: NoteInput, urgent: readonly Finding[]): string[] {
  if (urgent.length === 0) return [];
  const steps = (urgency: 'emergency' | 'same-day') =>
    byAct(
      urgent.filter(({ criterion }) => criterion.urgency === urgency),
      visit.wishes,
    ).flatMap(({ act }) => stepsOf(plainAct(act)));
  const now = eachStepOnce(steps('emergency'));
  const today = eachStepOnce([...now, ...steps('same-day')]).filter((step) => !now.includes(step));
  const home = staysAtHome(visit.wishes);
  const [first, ...then] = now;
  const sameDay = today.join(' ');
  return [
    ...(first === undefined ? [] : [`${home ? 'This needs help now.' : 'This is an emergency.'} ${first}`]),
    ...(then.length > 0 ? [then.join(' ')] : []),
    ...(sameDay === '' ? [] : [first === undefined ? withDay(sameDay) : `After that: ${sameDay}`]),
    ...(home ? ['You can ask for other help at any time.'] : []),
    '',
  ];
}

const withDay = (words: string): string => (/today/i.test(words) ? words : `Today: ${words}`);

export const stepsOf = (act: string): string[] => act.split(/(?<=[.!?]) (?=[A-Z])/);

/** A step that another one says as well, with more to it, is left out. */
const eachStepOnce = (steps: readonly string[]): string[] =>
  [...new Set(steps)].filter(
    (step, _, all) => !all.some((other) => other !== step && other.startsWith(step.replace(/[.!?]$/, ''))),
  );

/** Before the numbers; and not against what the person has said they want. */
function callLines({ visit }: NoteInput): string[] {
  const home = staysAtHome(visit.wishes);
  return [
    home
      ? 'Follow your own plan, and call the team named in it at once, for any of these'
      : 'Call the emergency number for any of these',
    ...[
      'very sleepy or confused',
      'grey or blue skin',
      'very short of breath',
      'choking, or phlegm that will not clear',
    ].map((sign) => `- ${sign}`),
    ...(home ? ['You can ask for other help at any time.'] : []),
    '',
  ];
}

function contactLines({ contacts = '' }: NoteInput): string[] {
  const known = filledLines(contacts);
  return [
    'Call your breathing team if you have bad sleep, headaches in the morning, more shortness of breath, a weaker cough or a cold.',
    ...(known.length > 0 ? known : ['Write the number of your breathing team here: ____________________']),
  ];
}

/** What findings rest on, each once, without a threshold. */
const reasonsOf = (findings: readonly Finding[], measures: Measures): string[] => [
  ...new Set(findings.map((finding) => reason(finding, measures)).filter((words) => words !== '')),
];

function reason({ parts, result }: Finding, measures: Measures): string {
  const said = parts.flatMap((part) => {
    if (part.truth !== result || part.assumed || measures[part.measure] === undefined) return [];
    return [partWords(part, measures)];
  });
  return said.length === 0 ? '' : closed(upperFirst([...new Set(said)].join(', and ')));
}

/** 'oxygen level 86 % (low)', 'carbon dioxide is high (carbon dioxide while awake 48 mmHg)' */
function partWords({ measure: id, condition, reading, impliedBy }: Part, measures: Measures): string {
  const measure = measures[id];
  const from = measures[impliedBy ?? id];
  const value = reading && from?.kind === 'number' ? valueWords(impliedBy ?? id, reading, from) : undefined;
  if (measure?.kind === 'number')
    return `${value ?? plainName(id, measure)}${/^</.test(condition.comparator) ? ' (low)' : ' (high)'}`;
  const state = condition.comparator === 'absent' ? 'absent' : 'present';
  const words =
    plainSigns[id]?.[state === 'present' ? 0 : 1] ?? lowerFirst(withoutPerson(signClause(id, state, measures)));
  return value === undefined ? words : `${words} (${value})`;
}

const withoutPerson = (words: string): string =>
  words
    .replace(/\bthe person's\b/g, 'your')
    .replace(/\bthe person is\b/g, 'you are')
    .replace(/\bthe person\b/g, 'you');

// --- what was measured -----------------------------------------------------------------------------------------------

const plainName = (id: string, measure: Measure | undefined): string =>
  plainMeasures[id]?.name ?? measure?.plain ?? lowerFirst(measure?.label.replace(/, on air$/, '') ?? id);

/** 'oxygen level 86 %, on oxygen' */
const valueWords = (id: string, reading: Reading, measure: NumberMeasure): string =>
  `${plainName(id, measure)} ${[numberWords(reading, measure), gasWords(reading, measure)].filter(Boolean).join(', ')}`;

const numberWords = (reading: Reading, measure: NumberMeasure): string =>
  readingWords(rounded(reading, measure), measure)
    .replace(/ predicted$/, ' of what is expected')
    .replace(/ of the upright value$/, ' of the sitting one')
    .replace(/\u00a0\/min$/, '');

function gasWords({ gas }: Reading, measure: NumberMeasure): string | undefined {
  if (gas === 'air') return 'with no added oxygen';
  if (gas !== undefined) return gas === 'oxygen' ? 'on oxygen' : 'on the breathing machine';
  return measure.roomAir ? 'and we did not write down whether oxygen was used' : undefined;
}

function measuredLines(input: NoteInput): string[] {
  const { visit, findings, evidence } = input;
  const { measures } = evidence;
  const unusual = outsideUsual(visit, findings, evidence);
  return Object.entries(visit.readings).flatMap(([id, reading]) => {
    const measure = measures[id];
    const outside = unusual.find(({ measure: one }) => one === id);
    // What was worked out is told where it alone says that something is wrong.
    if (measure?.kind !== 'number' || (reading.from && !outside)) return [];
    const value = [numberWords(reading, measure), gasWords(reading, measure)].filter(Boolean).join(', ');
    const side = outside?.side ?? sideOf(id, reading, findings, measures);
    return [
      [
        `${upperFirst(plainName(id, measure))}: ${value}.`,
        side && `${sideVerb(side, reading, measure, measures)} ${side}.`,
        outside && 'This is not in the usual range, so we will tell the team.',
        plainMeasures[id]?.tells,
        supported(id, reading),
        ...flagSentences(reading, measure, measures),
      ]
        .filter(Boolean)
        .join(' '),
    ];
  });
}

/** Low or high, where a finding to act on rests on this reading being so. */
function sideOf(
  id: string,
  reading: Reading,
  findings: readonly Finding[],
  measures: Measures,
): 'low' | 'high' | undefined {
  const worse = plainMeasures[id]?.worse;
  const tells = (part: Part): boolean => {
    if (part.reading !== reading || part.truth !== 'met') return false;
    const measure = measures[part.measure];
    // Only a rule about the number itself says that it is low or high: 'oxygen is breathed' does not.
    if (measure?.kind === 'sign')
      return (
        part.impliedRule !== undefined &&
        measure.abnormal !== 'neither' &&
        (part.condition.comparator === 'present') === (measure.abnormal === 'yes')
      );
    return part.condition.comparator.startsWith(worse === 'low' ? '<' : '>');
  };
  const acting = (finding: Finding) =>
    needsAttention(finding) && categoryOf(finding.criterion) === 'acting' && finding.criterion.use !== 'coverage';
  return worse && findings.some((finding) => acting(finding) && finding.parts.some(tells)) ? worse : undefined;
}

/** Never plainly low where a flag, as a leak, may have made it so. */
const sideVerb = (side: 'low' | 'high', reading: Reading, measure: Measure, measures: Measures): string =>
  doubtsIn('met', side === 'low' ? '<' : '>', reading, measure, measures).length > 0 ? 'The test read' : 'This is';

/** A saturation that is held up by something says less than it seems to. */
function supported(id: string, { gas }: Reading): string | undefined {
  if (id !== 'spo2' || gas === undefined || gas === 'air') return undefined;
  return gas === 'oxygen'
    ? 'Added oxygen can make this number look better than the breathing is.'
    : 'The machine can make this number look better than the breathing is.';
}

const mayBe = { low: 'so the true number may be higher', high: 'so the true number may be lower' } as const;

/** 'Leak at mask or mouthpiece, so the true number may be higher.' */
const flagSentences = (reading: Reading, measure: Measure, measures: Measures): string[] =>
  flagWords(reading, measure, measures).map((words) => {
    const [, label = words, way] = /^(.*), which reads (low|high)$/.exec(words) ?? [];
    return `${upperFirst(label)}, ${way === 'low' || way === 'high' ? mayBe[way] : 'so the number may be wrong'}.`;
  });

/** Complaints and signs that are there. What is asked of clinicians, and what is neither well nor ill, is left out. */
function toldLines({ visit, evidence: { measures } }: NoteInput): string[] {
  return Object.entries(visit.signs).flatMap(([id, sign]) => {
    const measure = measures[id];
    if (measure?.kind !== 'sign' || measure.abnormal === 'neither') return [];
    if ((sign === 'present') !== (measure.abnormal === 'yes')) return [];
    const words = plainSigns[id]?.[sign === 'present' ? 0 : 1] ?? lowerFirst(measure.label);
    return [closed(upperFirst(words))];
  });
}

// --- what comes next -------------------------------------------------------------------------------------------------

function talkLines({ visit, findings, decisions }: NoteInput): string[] {
  return byDecision(findings, decisions).flatMap(({ decision, categories }) => {
    const words = plainDecisions[decision];
    if (words === undefined || decisions[decision]?.coverage || !categories.acting.some(needsAttention)) return [];
    const status = visit.supports?.[decision];
    // Whoever has said no is not asked again on paper: it stands under the wishes.
    if (status === 'declined') return [];
    const told = upperFirst(words);
    if (status === 'in-place') return [`${told}. You have this now. Does it still help enough?`];
    if (status === 'ordered') return [`${told}. This is on order.`];
    return [status === 'not-tolerated' ? `${told}. It did not suit you. What would make it easier?` : `${told}.`];
  });
}

/** In the words that were typed for someone else, so they are in quotes. */
function askedLines(input: NoteInput): string[] {
  const asked = filledLines(input.asked ?? '').join('; ');
  if (asked === '') return [];
  const by = input.askedBy ? ` to answer by ${dateIn(input, input.askedBy)}` : '';
  return [`We asked ${input.askedOf?.trim() || 'the team'}${by}: “${asked}”`];
}

const planLines = (input: NoteInput): string[] =>
  inOrderOfDates(input.plan ?? []).map(({ what, owner, due }) =>
    [
      closed(upperFirst(what.trim())),
      owner.trim() === '' ? '' : `Who: ${closed(owner.trim())}`,
      due === '' ? '' : `By: ${closed(dateIn(input, due))}`,
    ]
      .filter(Boolean)
      .join(' '),
  );

function wishLines({ visit: { wishes = [], supports = {} } }: NoteInput): string[] {
  const declined = Object.entries(supports).flatMap(([id, status]) =>
    status === 'declined' ? [`You said no to this: ${plainDecisions[id] ?? id}. Your decision stands.`] : [],
  );
  const told = [...wishes.map((wish) => plainWishes[wish]), ...declined];
  if (told.length === 0) return ['We did not write down any wishes today. Please tell us what matters to you.'];
  const open = wishes.every((wish) => wish === 'not-discussed') && declined.length === 0;
  return open ? told : [...told, 'You can change your mind at any time.'];
}
