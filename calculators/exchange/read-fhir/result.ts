/** From what was collected to one series of visits, or to the reasons why there is none. */

import { derive } from '../../evaluate/derive.ts';
import { defaultSet } from '../../spirometry/default-set.ts';
import { type KeptVisit, Series, seriesFormat, seriesVersion } from '../../visit/series.ts';
import { type FileFault, faultAt } from '../schema-faults.ts';
import { type Collected, type Day, type FileText, leaveOut, refuse } from './bundle.ts';
import { morePersonsThanOne } from './patient.ts';
import { limits, Refusal } from './resource.ts';

export type ReadFhir =
  /** `leftOut` says each thing that was not taken: where it is and why */
  { ok: true; series: Series; leftOut: string[] } | { ok: false; problems: FileFault[] };

export function resultOf(collected: Collected, file: FileText): ReadFhir {
  const { problems, diseases, days, person, leftOut } = collected;
  const persons = morePersonsThanOne(person);
  if (persons) refuse(collected, file, persons);
  const [, other] = [...diseases.values()];
  if (other) refuse(collected, file, new Refusal(other, 'expected one disease: another was already given'));
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, limits.problems) };

  const visits = [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([date, day]) => visitOf(date, day, collected));
  if (visits.length === 0) {
    const none = 'expected an Observation that the visit sheet knows; found none';
    return { ok: false, problems: [faultAt(['entry'], file.lineOf, none)] };
  }
  const [disease] = diseases.keys();
  const [sex] = person.sexes;
  const series = Series.safeParse({
    format: seriesFormat,
    version: seriesVersion,
    person: { disease, ageYears: latest(visits, 'ageYears'), sex, heightCm: latest(visits, 'heightCm') },
    visits,
  });
  if (series.success) return { ok: true, series: series.data, leftOut };
  // Each part was checked by its schema where it was read; only the number of visits is left to fail here.
  return {
    ok: false,
    problems: series.error.issues.map(({ path, message }) =>
      faultAt(['entry'], file.lineOf, `${path.join('.')}: ${message}`),
    ),
  };
}

const latest = (visits: readonly KeptVisit[], field: 'ageYears' | 'heightCm'): number | undefined =>
  visits.findLast((visit) => visit[field] !== undefined)?.[field];

/** What was found twice on one day is left out: nothing says which of them counts. */
function visitOf(date: string, day: Day, collected: Collected): KeptVisit {
  const visit = emptyVisit(date);
  for (const [first, ...others] of day.values()) {
    if (first && others.length === 0) first.item.set(visit);
    else if (first)
      for (const { path, item } of [first, ...others])
        leaveOut(
          collected,
          path,
          `${item.name}: given more than once on ${date}, and the file does not say which one counts`,
        );
  }
  return { ...visit, signs: answeredSigns(visit) };
}

const emptyVisit = (date: string): KeptVisit => ({
  date,
  readings: {},
  notDone: {},
  signs: {},
  supports: {},
  prediction: { set: defaultSet },
  wishes: [],
  answers: '',
  asked: '',
  plan: [],
});

/** Signs as they were answered. A sign that follows from the supports follows again, and is no answer of its own. */
function answeredSigns({ signs, supports, prediction }: KeptVisit): KeptVisit['signs'] {
  const statuses = Object.fromEntries(Object.entries(supports).map(([id, { status }]) => [id, status]));
  const follow = derive({ readings: {}, signs: {}, supports: statuses }, prediction).signs;
  return Object.fromEntries(Object.entries(signs).filter(([id, sign]) => follow[id] !== sign));
}
