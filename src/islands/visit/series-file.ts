/** Between the sheet and the saved series: loaded only when the reader saves, opens or compares. */
import { derive } from '../../../calculators/criteria/derive.ts';
import { toFhir } from '../../../calculators/criteria/fhir.ts';
import type { Measures } from '../../../calculators/criteria/measure.ts';
import type { Person } from '../../../calculators/criteria/person.ts';
import {
  type KeptVisit,
  readSeries,
  type Series,
  seriesFormat,
  seriesVersion,
  writeSeries,
} from '../../../calculators/criteria/series.ts';
import type { PastVisit } from '../../../calculators/criteria/since.ts';
import { type Entries, noEntries, toVisit } from './entries.ts';

export type { KeptVisit };
export { readSeries, writeSeries };

/** Today's sheet as a visit to keep. Fields left empty are not kept. */
export function keepVisit(person: Person, entries: Entries): KeptVisit {
  return {
    date: entries.date,
    ageYears: person.ageYears,
    heightCm: person.heightCm,
    readings: Object.fromEntries(Object.entries(entries.readings).filter(([, entry]) => entry.text.trim() !== '')),
    notDone: entries.notDone,
    signs: entries.signs,
    supports: Object.fromEntries(Object.entries(entries.supports).map(([id, status]) => [id, { status }])),
    prediction: entries.prediction,
    wishes: entries.wishes,
    answers: entries.answers,
    asked: entries.asked,
    plan: entries.plan,
    card: entries.card,
  };
}

/** A kept visit as entries: what was typed, in the sheet's own form. */
export const entriesOf = (kept: KeptVisit): Entries => ({
  ...noEntries(),
  date: kept.date,
  readings: kept.readings,
  notDone: kept.notDone,
  signs: kept.signs,
  supports: Object.fromEntries(Object.entries(kept.supports).map(([id, { status }]) => [id, status])),
  prediction: kept.prediction,
  wishes: kept.wishes,
  answers: kept.answers,
  asked: kept.asked,
  plan: kept.plan,
  ...(kept.card ? { card: kept.card } : {}),
});

export function seriesOf(person: Person, earlier: readonly KeptVisit[], today: KeptVisit): Series {
  const { disease, ageYears, sex, heightCm } = person;
  // One visit a day: saving twice on a day keeps the later state.
  const visits = [...earlier.filter((visit) => visit.date !== today.date), today].sort((a, b) =>
    a.date < b.date ? -1 : 1,
  );
  return { format: seriesFormat, version: seriesVersion, person: { disease, ageYears, sex, heightCm }, visits };
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
    };
  });
}

export const fhirText = (
  visits: readonly PastVisit[],
  measures: Measures,
  decisionTitle: (id: string) => string,
): string => `${JSON.stringify(toFhir(visits, measures, decisionTitle), null, 2)}\n`;
