/** The short visit, person by person, against what was written before the code: tests/reference/short-visit.yaml. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { diseases } from '../../../calculators/domain/diseases.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { type Asked, askedOf, shortCount, singles } from '../../../calculators/evaluate/short-visit.ts';
import { readDecisions, readEvidence, readVisitSheet } from '../../read-content.ts';

interface Row {
  who: Partial<Visit>;
  because: string;
  asks: Record<string, string[]>;
  never: string[];
  most: number;
}
const rows: Row[] = parse(readFileSync('tests/reference/short-visit.yaml', 'utf8'));
const evidence = readEvidence();
const { measures } = evidence;
const sheet = readVisitSheet();

function askedFor(who: Partial<Visit>): Asked {
  const visit: Visit = { readings: {}, signs: {}, ...who };
  return askedOf(visit, { sheet, measures, criteria: criteriaFor(visit, evidence, { evaluated: true }) });
}
const shortOf = (asked: Asked) =>
  Object.fromEntries(
    [...asked]
      .map(([part, { short, ticks }]) => [part, [...short, ...(ticks.length > 0 ? ['ticks'] : [])]] as const)
      .filter(([, fields]) => fields.length > 0),
  );
const everything = (asked: Asked) =>
  [...asked.values()].flatMap(({ short, ticks, rest }) => [...short, ...ticks, ...rest]);

describe.each(rows.map((row) => [JSON.stringify(row.who), row] as const))('%s', (_, { who, asks, never, most }) => {
  const asked = askedFor(who);
  test('asks these fields, in this order', () => {
    if (Object.keys(asks).length > 0) {
      expect(shortOf(asked)).toEqual(asks);
      expect(Object.keys(shortOf(asked))).toEqual(Object.keys(asks));
    }
  });
  test('never asks what is settled, short or long', () => {
    const all = everything(asked);
    expect(never.filter((id) => all.includes(id))).toEqual([]);
  });
  test('is short', () => expect(shortCount(asked)).toBeLessThanOrEqual(most));
});

/** Settled by the age, or not asked below one. */
const isOpenAt = (id: string, age: number): boolean => {
  const measure = measures[id];
  if (measure?.kind !== 'sign') return true;
  return (
    age >= (measure.fromAgeYears ?? 0) && !measure.settledBy.some(({ minAgeYears }) => age >= (minAgeYears ?? 200))
  );
};

describe('whoever it is', () => {
  const people = diseases.flatMap((disease) => [0.5, 3, 9, 17, 40].map((ageYears) => ({ disease, ageYears })));
  test('no field is asked twice', () => {
    for (const who of people) {
      const all = everything(askedFor(who));
      expect({ who, twice: all.filter((id, place) => all.indexOf(id) !== place) }).toEqual({ who, twice: [] });
    }
  });
  test('every rule names fields that there are, and holds for somebody', () => {
    const decisions = readDecisions();
    const named = sheet.short.flatMap(({ ask, tick }) => [...ask, ...tick]);
    const unknown = named.filter((id) =>
      id.startsWith('support:')
        ? decisions[id.slice('support:'.length)]?.status === undefined
        : measures[id] === undefined && !['answers', 'wishes', 'remark'].includes(id),
    );
    expect(unknown).toEqual([]);
    const asked = new Set(rows.flatMap(({ who }) => everything(askedFor(who))));
    expect(
      named
        .flatMap((id) => (measures[id] ? singles(id, measures) : [id]))
        .filter((id) => !asked.has(id) && measures[id]?.kind !== 'sign'),
    ).toEqual([]);
  });
  test('what a criterion in scope asks for stands somewhere, unless it is settled', () => {
    for (const who of people) {
      const all = new Set(everything(askedFor(who)));
      const visit: Visit = { readings: {}, signs: {}, ...who };
      const wanted = criteriaFor(visit, evidence, { evaluated: true }).flatMap(({ measure }) =>
        singles(measure, measures),
      );
      const lost = wanted.filter((id) => !all.has(id) && isOpenAt(id, who.ageYears));
      expect({ who, lost }).toEqual({ who, lost: [] });
    }
  });
  test('a list to tick holds healthy answers only, and nothing that an emergency is about', () => {
    for (const who of people)
      for (const { ticks } of askedFor(who).values())
        for (const id of ticks) {
          const measure = measures[id];
          expect({ id, abnormal: measure?.kind === 'sign' && measure.abnormal }).toEqual({ id, abnormal: 'yes' });
          expect(['look', 'wishes', 'support', 'record']).not.toContain(measure?.part);
        }
  });
});
