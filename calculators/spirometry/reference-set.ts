/**
 * A published set of prediction equations: who it was made from, and what it expects of a person.
 *
 * Each set is a rule of its own. A set that does not cover a person refuses; nothing is carried from one set
 * into another and nothing is averaged.
 */
import type { Sex } from '../domain/age-and-sex.ts';
import { type Refusal, refuse } from '../outcome.ts';
import type { Expected } from './expected.ts';
import type { Run } from './run.ts';

/** FVC, FEV1, VC, IVC and IC in litres, PEF in L/s, FEV1/FVC as the set prints it: a fraction (GLI) or per cent (older sets). */
export type Index = 'FVC' | 'FEV1' | 'FEV1FVC' | 'PEF' | 'VC' | 'IVC' | 'IC';

/** The names under which the sets publish their groups. They are names on a report, not findings about a person. */
export const groupNames = {
  caucasian: 'Caucasian',
  'african-american': 'African-American',
  'mexican-american': 'Mexican-American',
  'north-east-asian': 'North East Asian',
  'south-east-asian': 'South East Asian',
  other: 'other/mixed',
} as const;
export type Group = keyof typeof groupNames;

export interface Person {
  sex: Sex;
  /** years, decimal */
  age: number;
  /** cm */
  height: number;
  /** needed by the sets that publish groups, unused by the others */
  group?: Group | undefined;
}

export interface ReferenceSet {
  id: string;
  /** as printed on reports */
  name: string;
  /** years, both ends included */
  ages: readonly [number, number];
  indices: readonly Index[];
  groups: readonly Group[];
  /** @returns what the set expects, or the refusal: outside its ages, no such index, group missing or not its own */
  expected: (index: Index, person: Person, run?: Run) => Expected | Refusal;
}

/** The name to write beside the number: the set, and the group where the set has groups. */
export const nameOnReport = (set: Pick<ReferenceSet, 'name' | 'groups'>, group: Group | undefined): string =>
  group !== undefined && set.groups.includes(group) ? `${set.name} ${groupNames[group]}` : set.name;

/** @returns why this set does not apply to this person; undefined when it does */
export function outside(
  set: Pick<ReferenceSet, 'name' | 'ages' | 'indices' | 'groups'>,
  index: Index,
  { age, group }: Person,
): Refusal | undefined {
  if (!set.indices.includes(index)) return refuse('index', `${set.name} has no equation for ${index}`);
  const [from, to] = set.ages;
  // Written so that NaN is outside as well.
  if (!(age >= from && age <= to))
    return refuse('age', `${set.name} is for ages ${from} to ${to} years. ${Number(age.toPrecision(6))} is outside it`);
  if (set.groups.length === 0) return undefined;
  if (group === undefined)
    return refuse('group', `${set.name} needs a group. Choose the one named on this person\u2019s earlier reports`);
  if (!set.groups.includes(group))
    return refuse(
      'group',
      `${set.name} has no group called ${groupNames[group]}. It has: ${set.groups.map((own) => groupNames[own]).join(', ')}`,
    );
  return undefined;
}
