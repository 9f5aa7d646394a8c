/** What a visit could not tell, by name and with the reason: unknown is not normal. */
import type { Measures } from '../domain/measure.ts';
import type { Finding, Part } from '../evaluate/evaluate.ts';
import { tally, toTestAgain, undecidedUrgent } from '../evaluate/group.ts';
import { worthMeasuring } from '../evaluate/most-useful.ts';
import { setAside } from './note-findings.ts';
import type { NoteInput } from './note-input.ts';
import { lowerFirst } from './sentences.ts';

const nameOf = (id: string, measures: Measures): string => measures[id]?.short ?? `the person's ${id}`;

/** @param named  findings that the note has told already */
export function notKnownLines(input: NoteInput, named: readonly Finding[], hasUrgent: boolean): string[] {
  const { visit, findings, evidence } = input;
  const { measures } = evidence;
  const notDone = Object.entries(visit.notDone ?? {})
    .filter(([id]) => visit.readings[id] === undefined)
    .map(([id, because]) => `${nameOf(id, measures)} (${because})`);
  const undecided = undecidedUrgent(findings);
  const why = reasons(undecided, measures);
  const again = toTestAgain(findings).map((id) => nameOf(id, measures));
  const told = new Set(undecided.flatMap(({ missing }) => missing));
  const next = worthMeasuring(findings, visit, measures)
    .filter(({ measure }) => hasUrgent || !told.has(measure))
    .slice(0, 5);
  return [
    ...(undecided.length > 0 && !hasUrgent
      ? [
          `Not an all-clear: ${undecided.length} urgent ${undecided.length === 1 ? 'criterion' : 'criteria'} could not be decided, because ${why}.`,
        ]
      : []),
    // Without anything urgent, the reason above has it already.
    ...(hasUrgent && again.length > 0
      ? [`Test again: ${again.join('; ')}. The reading was flagged, so it cannot rule out an urgent criterion.`]
      : []),
    ...(notDone.length > 0 ? [`Not done: ${notDone.join('; ')}.`] : []),
    ...(next.length > 0
      ? [`Most useful to measure or ask next: ${next.map(({ measure }) => nameOf(measure, measures)).join('; ')}.`]
      : []),
    ...asideLines(input, named),
  ];
}

/** Counted, so that no silence hides what is met outside this note. */
function asideLines(input: NoteInput, named: readonly Finding[]): string[] {
  const { folded } = tally(input.findings);
  const payer = input.withStatistics ? 0 : setAside(input, named).payer.length;
  const met = [
    folded > 0 && `${folded} more met among study figures and criteria not yet checked`,
    payer > 0 && `${payer} payer ${payer === 1 ? 'rule' : 'rules'} met`,
  ].filter(Boolean);
  return met.length > 0 ? [`On the sheet, but no decision depends on them: ${met.join('; ')}.`] : [];
}

/** 'these were not asked: acutely unwell; these were not measured: awake CO2; SpO2 was taken on oxygen' */
function reasons(undecided: readonly Finding[], measures: Measures): string {
  const asked = new Set<string>();
  const measured = new Set<string>();
  const other = new Set<string>();
  const person = new Set<string>();
  for (const { parts, missing } of undecided) {
    for (const name of missing)
      if (name === 'age' || name === 'sex' || name === 'disease') person.add(`the person's ${name} is not given`);
    for (const part of parts) {
      if (part.truth !== 'cannot-tell') continue;
      const name = nameOf(part.measure, measures);
      if (part.obstacle === undefined || part.obstacle.kind === 'not-asked') asked.add(name);
      else if (part.obstacle.kind === 'not-measured') measured.add(name);
      else other.add(obstacleWords(part, name));
    }
  }
  const group = (words: string, names: ReadonlySet<string>) =>
    names.size > 0 ? [`${words}: ${[...names].map(lowerFirst).join(', ')}`] : [];
  return [
    ...person,
    ...group('these were not asked', asked),
    ...group('these were not measured', measured),
    ...other,
  ].join('; ');
}

function obstacleWords({ obstacle }: Part, name: string): string {
  switch (obstacle?.kind) {
    case 'gas':
      return obstacle.gas === undefined
        ? `nobody recorded whether ${name} was taken on air or oxygen`
        : `${name} was taken on ${obstacle.gas}`;
    case 'posture':
      return `${name} was taken ${obstacle.posture === 'supine' ? 'lying flat' : 'sitting'}`;
    case 'method':
      return `${name} was taken by another method (${obstacle.method})`;
    case 'flagged':
      return `${name} was flagged, so it cannot rule this out`;
    case 'at-threshold':
      return `${name} is exactly at the threshold`;
    case 'age':
      return `${name} counts only from the age of ${obstacle.from} years`;
    default:
      return `${name} is in a unit that does not convert`;
  }
}
