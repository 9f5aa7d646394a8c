/** The visits of the golden notes, and what the sheet writes about each: for the centre and in plain words. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { Person } from '../../calculators/domain/person.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { derive } from '../../calculators/evaluate/derive.ts';
import { evaluate } from '../../calculators/evaluate/evaluate.ts';
import { categoryOf } from '../../calculators/evaluate/group.ts';
import type { NoteInput } from '../../calculators/visit/note.ts';
import { type KeptVisit, Series } from '../../calculators/visit/series.ts';
import * as words from '../../src/islands/visit/compare.ts';
import { toVisit } from '../../src/islands/visit/entries.ts';
import type { SheetData } from '../../src/islands/visit/evidence-data.ts';
import { entriesOf } from '../../src/islands/visit/kept.ts';
import { noteInput } from '../../src/islands/visit/note-input.ts';
import type { Results } from '../../src/islands/visit/use-results.ts';
import { readDecisions, readEvidence, readSources, readVisitSheet } from '../read-content.ts';

interface Golden {
  name: string;
  case?: string;
  person?: Person;
  visits?: Partial<KeptVisit>[];
  agreement?: NoteInput['agreement'];
  supportTimes?: Record<string, { hours?: string; timeOff?: string }>;
  leadWeeks?: number;
  contacts?: string;
  /** what the case's visit is given beside its readings */
  answers?: string;
  wishes?: string[];
  asked?: string;
  askedOf?: string;
  askedBy?: string;
  plan?: KeptVisit['plan'];
}

export const goldens: Golden[] = parse(readFileSync('tests/reference/notes/visits.yaml', 'utf8'));

const evidence = readEvidence();
const decisions = readDecisions();
const sources = readSources();
export const edition = '2026-11-25';
const data: SheetData = {
  sheet: readVisitSheet(),
  criteria: [...evidence.criteria],
  measures: evidence.measures,
  decisions,
  sources: Object.fromEntries(Object.entries(sources).map(([id, { short }]) => [id, short])),
  date: edition,
};

const months = 'January February March April May June July August September October November December'.split(' ');
/** '23 November 2026', whatever language this machine speaks. */
export const british = (iso: string): string => {
  const [, year, month, day] = /^(\d{4})-(\d\d)-(\d\d)$/.exec(iso) ?? [];
  return day ? `${Number(day)} ${months[Number(month) - 1]} ${year}` : iso;
};

const blank = {
  notDone: {},
  signs: {},
  supports: {},
  readings: {},
  prediction: { set: 'gli-2022-global' },
  wishes: [],
};
const bare = { ...blank, answers: '', asked: '', plan: [] };

/** A teaching case as a visit that somebody has typed. */
function caseVisit(golden: Golden): { person: Person; visits: object[] } {
  const told = parse(readFileSync(`content/cases/${golden.case}.yaml`, 'utf8'));
  const readings = Object.entries(told.readings ?? {}).map(([id, reading]) => {
    const { value, ...rest } = reading as { value: number };
    return [id, { text: String(value), ...rest }];
  });
  const supports = Object.entries(told.supports ?? {}).map(([id, status]) => [
    id,
    { status, ...golden.supportTimes?.[id] },
  ]);
  return {
    person: told.person,
    visits: [
      {
        date: '2026-11-23',
        readings: Object.fromEntries(readings),
        signs: told.signs ?? {},
        notDone: told.notDone ?? {},
        supports: Object.fromEntries(supports),
        wishes: golden.wishes ?? told.wishes ?? [],
      },
    ],
  };
}

/** What the sheet hands to the note, made by the sheet's own functions. */
export function inputOf(golden: Golden): NoteInput {
  const { person, visits } = golden.case
    ? caseVisit(golden)
    : { person: golden.person ?? {}, visits: golden.visits ?? [] };
  const typed = ['answers', 'asked', 'askedOf', 'askedBy', 'plan'] as const;
  const beside = Object.fromEntries(typed.flatMap((key) => (golden[key] === undefined ? [] : [[key, golden[key]]])));
  const card = { interface: '', settings: '', contacts: golden.contacts ?? '' };
  const kept = visits.map((one, at) => ({
    ...bare,
    ...(at === visits.length - 1 ? { ...beside, card } : {}),
    ...one,
  }));
  const series = Series.parse({ format: 'tidemark-visits', version: 1, person, visits: kept });
  const before = series.visits.slice(0, -1);
  const entries = {
    ...entriesOf(series.visits.at(-1) as KeptVisit),
    leadWeeks: golden.leadWeeks === undefined ? '' : String(golden.leadWeeks),
  };
  const { measures } = evidence;
  const ahead = criteriaFor(person, evidence, { certain: true }).filter((row) => categoryOf(row) === 'acting');
  const comparison =
    before.length > 0 ? { words, ...words.compare(person, entries, before, measures, ahead) } : undefined;
  const derived = derive(toVisit(person, entries, measures), entries.prediction);
  const visit = comparison ? { ...derived, readings: { ...comparison.falls, ...derived.readings } } : derived;
  const results = {
    evidence,
    before,
    ahead,
    comparison,
    uncompared: undefined,
    visit,
    findings: evaluate(visit, evidence),
  } as unknown as Results;
  return { ...noteInput(data, results, entries, british), agreement: golden.agreement };
}
