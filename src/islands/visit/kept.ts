/** Between the sheet and the visits that are kept: what was typed, in either form. */

import type { Measures } from '../../../calculators/domain/measure.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import type { KeptSupport, KeptVisit, Series } from '../../../calculators/visit/series.ts';
import type { PastVisit } from '../../../calculators/visit/since.ts';
import { type Entries, noEntries, type SupportTime, toVisit } from './entries.ts';

/** Today's sheet as a visit to keep. Fields left empty are not kept. */
export function keepVisit(person: Person, entries: Entries): KeptVisit {
  return {
    date: entries.date,
    ageYears: person.ageYears,
    heightCm: person.heightCm,
    readings: {
      ...Object.fromEntries(Object.entries(entries.readings).filter(([, entry]) => entry.text.trim() !== '')),
      ...keptChoices(entries.choices),
    },
    notDone: entries.notDone,
    signs: entries.signs,
    supports: Object.fromEntries(
      Object.entries(entries.supports).map(([id, status]) => [id, { status, ...timesOf(entries.supportTimes[id]) }]),
    ),
    prediction: entries.prediction,
    wishes: entries.wishes,
    answers: entries.answers,
    asked: entries.asked,
    ...(entries.askedOf.trim() === '' ? {} : { askedOf: entries.askedOf }),
    ...(entries.askedBy === '' ? {} : { askedBy: entries.askedBy }),
    ...(entries.remark.trim() ? { notes: entries.remark } : {}),
    plan: entries.plan,
    card: entries.card,
  };
}

/** A choice is kept among the readings, as its own id in place of a number: a file of an older copy opens, and passes over it. */
const choiceUnit = '{count}';
const keptChoices = (choices: Entries['choices']): KeptVisit['readings'] =>
  Object.fromEntries(Object.entries(choices).map(([id, text]) => [id, { text, unit: choiceUnit }]));
const isChoice = ({ text, unit }: KeptVisit['readings'][string]): boolean =>
  unit === choiceUnit && /^[a-z][a-z-]+$/.test(text);

/** Times as typed; what was left empty is not there. */
const timesOf = ({ hours, timeOff }: SupportTime = {}): Omit<KeptSupport, 'status'> => ({
  ...(hours?.trim() ? { hours } : {}),
  ...(timeOff?.trim() ? { timeOff } : {}),
});

/** A kept visit as entries: what was typed, in the sheet's own form. */
export const entriesOf = (kept: KeptVisit): Entries => ({
  ...noEntries(),
  date: kept.date,
  readings: Object.fromEntries(Object.entries(kept.readings).filter(([, one]) => !isChoice(one))),
  choices: Object.fromEntries(
    Object.entries(kept.readings).flatMap(([id, one]) => (isChoice(one) ? [[id, one.text]] : [])),
  ),
  remark: kept.notes ?? '',
  notDone: kept.notDone,
  signs: kept.signs,
  supports: Object.fromEntries(Object.entries(kept.supports).map(([id, { status }]) => [id, status])),
  supportTimes: Object.fromEntries(Object.entries(kept.supports).map(([id, support]) => [id, timesOf(support)])),
  prediction: kept.prediction,
  wishes: kept.wishes,
  answers: kept.answers,
  asked: kept.asked,
  askedOf: kept.askedOf ?? '',
  askedBy: kept.askedBy ?? '',
  plan: kept.plan,
  ...(kept.card ? { card: kept.card } : {}),
});

/** The sheet of the visit after this one: the reference set stays, and so does what was planned and is not finished. */
export const nextEntries = (last: KeptVisit, date: string): Entries => ({
  ...noEntries(),
  date,
  prediction: last.prediction,
  plan: last.plan.filter(({ what, state }) => what.trim() !== '' && state !== 'CO2 re-checked'),
});

/** In the order of their dates, one a date: a later state of a day takes the place of an earlier one. */
export function inOrder(visits: readonly KeptVisit[]): KeptVisit[] {
  const byDate = new Map(visits.map((visit) => [visit.date, visit]));
  return [...byDate.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
}

export function seriesOf(person: Person, earlier: readonly KeptVisit[], today: KeptVisit): Series {
  const { disease, ageYears, sex, heightCm } = person;
  return {
    format: 'tidemark-visits',
    version: 1,
    person: { disease, ageYears, sex, heightCm },
    visits: inOrder([...earlier, today]),
  };
}

export function pastVisits(person: Person, kept: readonly KeptVisit[], measures: Measures): PastVisit[] {
  return kept.map((one) => {
    const at: Person = {
      ...person,
      ageYears: one.ageYears ?? person.ageYears,
      heightCm: one.heightCm ?? person.heightCm,
    };
    const { set, group } = one.prediction;
    return {
      date: one.date,
      visit: derive(toVisit(at, entriesOf(one), measures), one.prediction),
      set: group === undefined ? set : `${set} ${group}`,
      times: one.supports,
    };
  });
}
