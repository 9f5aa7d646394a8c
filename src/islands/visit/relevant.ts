import type { VisitPart } from '../../../calculators/domain/measure.ts';
import type { Person } from '../../../calculators/domain/person.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { type EvidenceData, toEvidence } from './evidence-data.ts';

/** Asked whatever the marks in scope name: what others are worked out from, and the tests of any visit. */
const baseMeasures = [
  'vc-litres',
  'vc-litres-supine',
  'weight',
  'usual-weight',
  'respiratory-rate',
  'peak-cough-flow',
  'spo2',
  'fvc-percent',
  'snip',
  'mip',
  'mep',
];

/** Measures to ask for this person, by part of the visit: what the criteria in scope name, and what those are made of. */
export function relevant(data: EvidenceData, person: Person): Map<VisitPart, string[]> {
  const { measures } = data;
  const wanted = new Set(baseMeasures);
  const want = (id: string) => {
    if (wanted.has(id)) return;
    wanted.add(id);
    const measure = measures[id];
    if (measure?.kind === 'sign') for (const part of [...(measure.anyOf ?? []), ...(measure.allOf ?? [])]) want(part);
    if (measure?.kind === 'number') for (const part of measure.readFrom?.measures ?? []) want(part);
  };
  for (const criterion of criteriaFor(person, toEvidence(data), { evaluated: true })) {
    want(criterion.measure);
    if (criterion.alternative) want(criterion.alternative.measure);
    for (const requirement of criterion.alsoRequires)
      for (const id of 'anyOf' in requirement ? requirement.anyOf : [requirement.measure]) want(id);
  }
  const parts = new Map<VisitPart, string[]>();
  for (const [id, measure] of Object.entries(measures)) {
    const made =
      (measure.kind === 'sign' && (measure.anyOf ?? measure.allOf)) ||
      (measure.kind === 'number' && measure.readFrom?.rule === 'greatest');
    if (!wanted.has(id) || measure.kind === 'schedule' || made || id === 'age-years') continue;
    parts.set(measure.part, [...(parts.get(measure.part) ?? []), id]);
  }
  return parts;
}
