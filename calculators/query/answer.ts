/**
 * What a typed line is answered with, before anything is drawn: the same evaluator, the same order of urgency and the same
 * words as the visit sheet. Nothing is chosen for the reader, and what was assumed about the person is told.
 */

import { adulthood } from '../domain/age-and-sex.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Decisions } from '../domain/decision.ts';
import { isAcute } from '../domain/diseases.ts';
import type { Measures } from '../domain/measure.ts';
import type { Person } from '../domain/person.ts';
import type { Visit } from '../domain/visit.ts';
import { byAct } from '../evaluate/act.ts';
import { type Evidence, evaluate, type Finding } from '../evaluate/evaluate.ts';
import { follow, type PercentOf } from '../evaluate/follow.ts';
import { byUrgency, type Category, categoryOf, isUrgent, needsAttention } from '../evaluate/group.ts';
import { type Contradiction, contradictions } from '../evaluate/implied.ts';
import { type OutsideUsual, outsideUsual } from '../evaluate/outside-usual.ts';
import { type Statement, statements } from '../evaluate/statements.ts';
import { type AskedPerson, type AskedReading, type AskedVisit, visitOf } from './asked.ts';

export type { Statement } from '../evaluate/statements.ts';

export interface LineAnswer {
  visit: Visit;
  /** facts about the person that were taken from elsewhere or for granted */
  assumed: { adult?: true; child?: true; inHand: (keyof Person)[] };
  emergency: { act: string; findings: Finding[] }[];
  sameDay: { act: string; findings: Finding[] }[];
  /** urgent if the disease, sex or age that nobody named is the one of the criterion */
  urgentIf: Finding[];
  /** to be seen within a week */
  soon: Statement[];
  met: Statement[];
  /** met by what was typed, if this too is so: by what it hangs on */
  onlyIf: { missing: string[]; urgent: boolean; statements: Statement[] }[];
  notMet: Finding[];
  cannotTell: Finding[];
  payer: Finding[];
  folded: Record<Exclude<Category, 'acting'>, Finding[]>;
  unusual: OutsideUsual[];
  disagree: Contradiction[];
}

const ofPerson = new Set(['disease', 'sex', 'age']);
/** The age that stands for 'a child' where none was named: too young for tests that count from an age. */
const childAge = 5;

/** What of the line and of the person in hand belongs together. */
export const knownOf = (asked: AskedReading | AskedVisit, whoIsInHand: Person): Visit => ({
  ...(sameAs(asked.person, whoIsInHand) ? whoIsInHand : {}),
  ...visitOf(asked),
});

/** @param whoIsInHand  the person on the visit sheet; counts only where the line names nobody else */
export function answerTo(
  asked: AskedReading | AskedVisit,
  whoIsInHand: Person,
  evidence: Evidence,
  decisions: Decisions,
  percentOf: PercentOf,
): LineAnswer {
  const typed = visitOf(asked);
  const inHand = sameAs(asked.person, whoIsInHand) ? whoIsInHand : {};
  const known = knownOf(asked, whoIsInHand);
  const age = known.ageYears;
  const child = asked.person.child === true && age === undefined;
  const whole = follow(known, percentOf);
  const visit: Visit = age === undefined ? { ...whole, ageYears: child ? childAge : adulthood } : whole;
  const findings = evaluate(visit, evidence).sort(byUrgency(decisions));
  // What follows from a typed reading is about it too: per kilogram, per cent predicted, the fall on lying flat.
  const said = new Set([...Object.values(typed.readings), ...Object.values(visit.readings).filter(({ from }) => from)]);
  const near = new Set(asked.kind === 'visit' ? besides(asked) : []);
  const isNear = ({ criterion, result }: Finding) => result === 'cannot-tell' && near.has(criterion.measure);
  const about = findings.filter((finding) => isAbout(finding, typed, said, evidence.measures) || isNear(finding));
  const acting = about.filter(({ criterion }) => categoryOf(criterion) === 'acting' && criterion.use !== 'coverage');
  const leading = about.filter(({ criterion }) => ['acting', 'study'].includes(categoryOf(criterion)));
  const urgent = leading.filter((finding) => isUrgent(finding.criterion) && needsAttention(finding));
  const met = acting.filter(
    (finding) => !isUrgent(finding.criterion) && (needsAttention(finding) || metForSomeone(finding)),
  );
  const open = acting.filter((finding) => finding.result === 'cannot-tell' && !metForSomeone(finding));
  const asks = open.filter((finding) => hangsOnMore(finding) || isNear(finding));
  const folded = (category: Category) =>
    about.filter(
      (finding) =>
        categoryOf(finding.criterion) === category &&
        !urgent.includes(finding) &&
        (needsAttention(finding) || metForSomeone(finding) || isNear(finding)),
    );
  return {
    visit,
    assumed: {
      ...(age === undefined ? (child ? { child: true } : { adult: true }) : {}),
      inHand: (['disease', 'sex', 'ageYears', 'heightCm'] as const).filter(
        (fact) => inHand[fact] !== undefined && typed[fact] === undefined,
      ),
    },
    emergency: byAct(
      urgent.filter(({ criterion }) => criterion.urgency === 'emergency'),
      visit.wishes,
    ),
    sameDay: byAct(
      urgent.filter(({ criterion }) => criterion.urgency === 'same-day'),
      visit.wishes,
    ),
    urgentIf: leading.filter((finding) => isUrgent(finding.criterion) && metForSomeone(finding)),
    soon: statements(
      met.filter(({ criterion }) => criterion.urgency === 'within-1-week'),
      evidence,
      decisions,
    ),
    met: statements(
      met.filter(({ criterion }) => criterion.urgency !== 'within-1-week').sort(whatToDoFirst),
      evidence,
      decisions,
    ),
    onlyIf: grouped(asks, evidence, decisions),
    notMet: acting.filter((finding) => finding.result !== 'cannot-tell' && !needsAttention(finding)),
    cannotTell: open.filter((finding) => !asks.includes(finding)),
    payer: about.filter(({ criterion, result }) => criterion.use === 'coverage' && result !== 'not-met'),
    folded: { study: folded('study'), unchecked: folded('unchecked'), replaced: folded('replaced') },
    unusual: outsideUsual(visit, findings, evidence),
    disagree: contradictions(visit, evidence.measures),
  };
}

/**
 * Measures that what was told bears on and that need more: a value asleep, for what a night is measured by; a fall of vital
 * capacity, for the falls that criteria name. Their criteria are shown with what is missing.
 */
const besides = ({ asleep = [], falls = [], series = [] }: AskedVisit): string[] => [
  ...asleep.flatMap(({ needs }) => needs),
  ...(falls.some(({ measure }) => isVitalCapacity(measure)) ||
  series.some(({ measure, values }) => isVitalCapacity(measure) && (values.at(-1) ?? 0) < (values[0] ?? 0))
    ? ['snip-or-mip-fall-per-3-months', 'vc-rapid-significant-fall']
    : []),
];

const isVitalCapacity = (measure: string | undefined): boolean => measure === 'fvc-percent' || measure === 'vc-litres';

/** Nothing that the line says of a person is otherwise for the person in hand: one of their facts may complete the line. */
export const sameAs = (said: AskedPerson, inHand: Person): boolean =>
  (['disease', 'sex', 'ageYears', 'heightCm'] as const).every(
    (fact) => !(fact in said) || said[fact] === undefined || inHand[fact] === undefined || said[fact] === inHand[fact],
  ) && !(said.child === true && inHand.ageYears !== undefined && inHand.ageYears >= adulthood);

/** The line names a disease in which hours count: its urgent page leads, whatever the numbers are. */
export const hoursCount = ({ disease }: Person): boolean => disease !== undefined && isAcute(disease);

/** Decided, or left open, by something that was typed: not by the person's age and disease alone. */
function isAbout(finding: Finding, typed: Visit, said: ReadonlySet<unknown>, measures: Measures): boolean {
  return finding.parts.some(
    ({ measure, reading, truth, obstacle }) =>
      (reading !== undefined && said.has(reading) && (truth !== 'cannot-tell' || obstacle !== undefined)) ||
      (truth !== 'cannot-tell' && madeOf(measure, measures).some((sign) => typed.signs[sign] !== undefined)),
  );
}

/** A sign and everything that it follows from. */
function madeOf(id: string, measures: Measures): string[] {
  const measure = measures[id];
  if (measure?.kind !== 'sign') return [];
  return [id, ...[...(measure.anyOf ?? []), ...(measure.allOf ?? [])].flatMap((part) => madeOf(part, measures))];
}

/** Oxygen that hides failing ventilation first; then a rule to start or refer, a caution, a schedule. */
const useOrder: Partial<Record<Criterion['use'], number>> = { decision: 1, caution: 2, setting: 3, schedule: 4 };
/** Beside what is to be started, filling the chest is the lesser matter. */
const placeOfUse = ({ support, use }: Criterion): number =>
  support === 'oxygen-caution' ? 0 : support === 'lung-volume-recruitment' ? 1.5 : (useOrder[use] ?? 5);
const whatToDoFirst = (a: Finding, b: Finding): number => placeOfUse(a.criterion) - placeOfUse(b.criterion);

/**
 * Every part is met, and only who the person is decides. The main comparison, or the alternative that stands for it, has to be
 * met by what was typed: an exception that nobody was asked about meets nothing by itself.
 */
export const metForSomeone = ({ result, missing, parts }: Finding): boolean => {
  const compared = parts.filter(({ role }) => role === 'main' || role === 'alternative');
  return (
    result === 'cannot-tell' &&
    missing.length > 0 &&
    missing.every((name) => ofPerson.has(name)) &&
    compared.some(({ truth }) => truth === 'met') &&
    parts.every(({ truth, role }) => truth === 'met' || role === 'any-of' || role === 'alternative' || role === 'main')
  );
};

/** Something typed meets it, and something else that can be asked or measured is missing. */
const hangsOnMore = ({ missing, parts }: Finding): boolean =>
  parts.some(({ truth, role, assumed }) => truth === 'met' && !assumed && role !== 'any-of') &&
  missing.some((name) => !ofPerson.has(name));

function grouped(findings: readonly Finding[], evidence: Evidence, decisions: Decisions): LineAnswer['onlyIf'] {
  const groups = new Map<string, { missing: string[]; findings: Finding[] }>();
  for (const finding of findings) {
    const missing = finding.missing.filter((name) => !ofPerson.has(name));
    const key = missing.join('|');
    const group = groups.get(key) ?? { missing, findings: [] };
    group.findings.push(finding);
    groups.set(key, group);
  }
  return [...groups.values()]
    .map(({ missing, findings: some }) => ({
      missing,
      urgent: some.some(({ criterion }) => isUrgent(criterion)),
      statements: statements(some, evidence, decisions),
    }))
    .sort((a, b) => Number(b.urgent) - Number(a.urgent) || a.missing.length - b.missing.length);
}
