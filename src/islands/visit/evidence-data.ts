import type { Published } from '../../../calculators/agreement/local-criteria.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { Decisions } from '../../../calculators/domain/decision.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import type { VisitSheetContent } from '../../../calculators/domain/visit-sheet.ts';

/** What the visit sheet needs of the evidence, printed into its page when the site is built. */
export interface EvidenceData {
  criteria: Criterion[];
  measures: Measures;
  decisions: Decisions;
  sources: Record<string, string>;
  /** newest check date among the criteria */
  date: string;
}

/** And what it asks of whom. */
export interface SheetData extends EvidenceData {
  sheet: VisitSheetContent;
}

export const toEvidence = ({ criteria, measures, decisions }: EvidenceData): Published => {
  const bySupport = new Map(
    Object.entries(decisions).flatMap(([id, decision]) => decision.supports.map((support) => [support, id] as const)),
  );
  return { criteria, measures, decisions, decisionOf: (support) => bySupport.get(support) };
};
