/**
 * From a teaching case's `inputs` to our own visit and findings, so that outside checks do not depend on names inside.
 * The vocabulary on the left (measure names with their unit, `disease: other-sci`) is that of the cases and stays as it is.
 */

import { isEvaluated } from '../../calculators/domain/criterion.ts';
import type { Disease, Sex } from '../../calculators/domain/person.ts';
import { diseases } from '../../calculators/domain/person.ts';
import type { Reading, Sign } from '../../calculators/domain/visit.ts';
import { type Evidence, evaluate, type Finding } from '../../calculators/evaluate/evaluate.ts';
import type { UnitCode } from '../../calculators/quantity.ts';
import { readEvidence } from '../read-content.ts';

export type CaseResult = 'met' | 'not-met' | 'unknown' | 'out-of-scope';

/** Measures that the cases name with a unit: ours, and the unit its number is in. */
const named: Record<string, [measure: string, unit: UnitCode]> = {
  'paco2-mmhg': ['paco2', 'mm[Hg]'],
  'paco2-kpa': ['paco2', 'kPa'],
  'snip-cmh2o': ['snip', 'cm[H2O]'],
  'mip-cmh2o': ['mip', 'cm[H2O]'],
  'mep-cmh2o': ['mep', 'cm[H2O]'],
  'snip-or-mip-best-cmh2o': ['snip-or-mip-best', 'cm[H2O]'],
  'pcf-l-min': ['peak-cough-flow', 'L/min'],
  'pcf-l-s': ['peak-cough-flow', 'L/s'],
  'assisted-pcf-l-min': ['assisted-peak-cough-flow', 'L/min'],
  'manually-assisted-pcf-l-min': ['manually-assisted-peak-cough-flow', 'L/min'],
  'mi-e-assisted-pcf-l-min': ['mi-e-peak-cough-flow', 'L/min'],
  'spo2-percent': ['spo2', '%'],
  'morning-earlobe-pco2-kpa': ['morning-earlobe-pco2', 'kPa'],
  'awake-co2-any-method-mmhg': ['awake-co2-any-method', 'mm[Hg]'],
  'bicarbonate-mmol-l': ['bicarbonate', 'mmol/L'],
  'base-excess-mmol-l': ['base-excess', 'mmol/L'],
  'suction-pressure-mmhg': ['suction-pressure', 'mm[Hg]'],
  'respiratory-rate-per-min': ['respiratory-rate', '/min'],
  'ahi-per-hour': ['ahi', '/h'],
  'niv-hours-per-day': ['niv-hours', 'h/d'],
  'nocturnal-paco2-mmhg': ['nocturnal-paco2', 'mm[Hg]'],
  'paco2-overnight-rise-mmhg': ['paco2-overnight-rise', 'mm[Hg]'],
  'tcco2-or-etco2-peak-rise-mmhg': ['tcco2-or-etco2-peak-rise', 'mm[Hg]'],
  'tcco2-night-rise-mmhg': ['tcco2-night-rise', 'mm[Hg]'],
  'cabin-altitude-m': ['cabin-altitude', 'm{altitude}'],
  'snip-fall-percent-per-3-months': ['snip-relative-fall-per-3-months', '%/(3.mo)'],
  'vc-ml-per-kg': ['vc-per-kilogram', 'mL/kg'],
  'mouthpiece-disconnection-minutes': ['mouthpiece-disconnection', 'min'],
  'weight-kg': ['weight', 'kg'],
};

/** Names of measures that only the cases use; every other name in a case is ours. */
export const caseNames = Object.keys(named);

const diseaseNamed = (name: string, acutelyUnwell: boolean): Disease | undefined => {
  // The cases have one code for cord injury; an acute injury is the one whose person is acutely unwell.
  if (name === 'other-sci') return acutelyUnwell ? 'sci-acute' : 'sci';
  if (name === 'mnd') return 'als';
  const plain = name.replace(/^other-/, '');
  return (diseases as readonly string[]).includes(plain) ? (plain as Disease) : 'other-chronic';
};

const personKeys = new Set(['disease', 'age_years', 'age-years', 'sex', 'height_cm', 'height-cm', 'case']);

const evidence: Evidence = readEvidence();

/** @param inputs  as in cases.md: measure names to numbers, 'present' or 'absent'; `<test>-quality` names a flag; what is not listed was not measured */
export function evaluateCase(inputs: object): Record<string, CaseResult> {
  const results = new Map(findingsOf(inputs).map((finding) => [finding.criterion.id, finding.result]));
  return Object.fromEntries(
    evidence.criteria.filter(isEvaluated).map((criterion) => {
      const result = results.get(criterion.id);
      return [criterion.id, result === undefined ? 'out-of-scope' : result === 'cannot-tell' ? 'unknown' : result];
    }),
  );
}

/** The same findings with what they rest on: flags, missing measures, the order of alarms. */
export function findingsOf(inputs: object): Finding[] {
  const given = inputs as Record<string, unknown>;
  const readings: Record<string, Reading> = {};
  const signs: Record<string, Sign> = {};
  const air = given['on-room-air'];
  const gas: Reading['gas'] = air === 'present' ? 'air' : air === 'absent' ? 'oxygen' : undefined;
  const flagged = Object.entries(given).flatMap(([key, flag]) => {
    const tests = /^(.*)-quality$/.exec(key)?.[1];
    // 'leak, flag': it leaked, and the finding has to say so.
    const names = typeof flag === 'string' ? flag.split(', ').filter((name) => name !== 'flag') : [];
    return tests === undefined ? [] : names.map((name) => ({ tests, flag: name }));
  });
  for (const [key, value] of Object.entries(given)) {
    if (personKeys.has(key)) continue;
    if (value === 'present' || value === 'absent') signs[key] = value;
    else if (typeof value === 'number') {
      const [measure, unit] = named[key] ?? [key, unitOf(key)];
      if (unit === undefined) continue;
      const flags = flagged.filter(({ tests }) => key === tests || key.startsWith(`${tests}-`)).map(({ flag }) => flag);
      readings[measure] = {
        value,
        unit,
        // A night recording is taken on air unless the case says otherwise; a spot saturation has to say so.
        ...(needsRoomAir(measure) ? { gas: measure === 'spo2' ? gas : (gas ?? 'air') } : {}),
        ...(flags.length > 0 ? { flags } : {}),
      };
    }
  }
  const disease =
    typeof given.disease === 'string' ? diseaseNamed(given.disease, signs['acutely-unwell'] === 'present') : undefined;
  const ageYears = given.age_years ?? given['age-years'];
  return evaluate(
    {
      disease,
      ageYears: typeof ageYears === 'number' ? ageYears : undefined,
      sex: given.sex === 'male' || given.sex === 'female' ? (given.sex as Sex) : undefined,
      readings,
      signs,
    },
    evidence,
  );
}

function unitOf(measure: string): UnitCode | undefined {
  const found = evidence.measures[measure];
  return found?.kind === 'number' ? found.unit : undefined;
}

/** Measures whose criteria are about room air. */
function needsRoomAir(measure: string): boolean {
  const found = evidence.measures[measure];
  return found?.kind === 'number' && found.roomAir === true;
}
