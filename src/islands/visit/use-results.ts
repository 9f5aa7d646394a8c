import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Agreement } from '../../../calculators/agreement/agreement.ts';
import { withLocal } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Visit } from '../../../calculators/domain/visit.ts';
import { criteriaFor } from '../../../calculators/evaluate/criteria-for.ts';
import { derive } from '../../../calculators/evaluate/derive.ts';
import { type Evidence, evaluate, type Finding } from '../../../calculators/evaluate/evaluate.ts';
import { categoryOf } from '../../../calculators/evaluate/group.ts';
import { type Asked, askedOf } from '../../../calculators/evaluate/short-visit.ts';
import type { KeptVisit } from '../../../calculators/visit/series.ts';
import type { Compared } from './compare.ts';
import { toVisit } from './entries.ts';
import { type SheetData, toEvidence } from './evidence-data.ts';
import { type LastTime, lastTime } from './last-time.ts';
import type { SheetState } from './sheet-state.ts';

type CompareModule = typeof import('./compare.ts');

/** Everything that follows from what is on the sheet. */
export interface Results {
  /** the published criteria, and the clinic's own */
  evidence: Evidence;
  /** visits of days before the sheet's, oldest first */
  before: readonly KeptVisit[];
  last: LastTime;
  /** criteria to look ahead to: those that act, for this person */
  ahead: readonly Criterion[];
  comparison: (Compared & { words: CompareModule }) | undefined;
  /** said where there are earlier visits and no comparison: a fall that nobody looked for must not read as none */
  uncompared: string | undefined;
  visit: Visit;
  findings: Finding[];
  /** what is asked of this person, by part */
  asked: Asked;
}

/** The part of the page that compares visits is loaded with the first earlier one; without a signal it may not come. */
function useCompare(visits: number): { words: CompareModule | undefined; failed: boolean } {
  const [words, setWords] = useState<CompareModule>();
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    if (visits === 0) return;
    import('./compare.ts').then(
      (loaded) => {
        setWords(loaded);
        setFailed(false);
      },
      () => setFailed(true),
    );
  }, [visits]);
  return { words, failed };
}

export function useResults(
  { person, entries, earlier }: SheetState,
  data: SheetData,
  agreement: Agreement | undefined,
): Results {
  const { words, failed } = useCompare(earlier.length);
  const { measures } = data;
  const evidence = useMemo(() => withLocal(toEvidence(data), agreement), [data, agreement]);
  const before = useMemo(() => earlier.filter(({ date }) => date < entries.date), [earlier, entries.date]);
  const last = useMemo(() => lastTime(before, measures), [before, measures]);
  const ahead = useMemo(
    () =>
      before.length === 0
        ? []
        : criteriaFor(person, evidence, { certain: true }).filter((row) => categoryOf(row) === 'acting'),
    [evidence, before, person],
  );
  const comparison = useMemo(
    () =>
      words && before.length > 0 ? { words, ...words.compare(person, entries, before, measures, ahead) } : undefined,
    [words, measures, before, ahead, person, entries],
  );
  const visit = useMemo(() => {
    const derived = derive(toVisit(person, entries, measures), entries.prediction);
    return comparison ? { ...derived, readings: { ...comparison.falls, ...derived.readings } } : derived;
  }, [measures, person, entries, comparison]);
  const findings = useMemo(() => evaluate(visit, evidence), [evidence, visit]);
  const inScope = useMemo(() => criteriaFor(person, evidence, { evaluated: true }), [evidence, person]);
  const asked = useMemo(
    () => askedOf(visit, { sheet: data.sheet, measures, criteria: inScope }),
    [visit, data, measures, inScope],
  );
  const uncompared =
    failed && before.length > 0
      ? 'Part of this page did not load, so these readings were not compared with the earlier visits. The findings do not include any fall since those visits.'
      : undefined;
  return { evidence, before, last, ahead, comparison, uncompared, visit, findings, asked };
}
