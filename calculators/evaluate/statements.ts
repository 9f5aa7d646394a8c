/** Findings that say the same, said once: one rule, the sources that hold it. */
import { cautionAbout } from '../domain/caution.ts';
import type { Criterion } from '../domain/criterion.ts';
import type { Decisions } from '../domain/decision.ts';
import type { Evidence, Finding } from './evaluate.ts';
import { explain } from './explain.ts';
import { alsoWords, ruleWords as limitWords, nameWithValue } from './say.ts';

export interface Statement {
  /** 'FVC below 50 % predicted', with what else it asks; or the sentence about this visit */
  rule: string;
  purpose: string;
  decision: string;
  findings: Finding[];
}

type Words = (finding: Finding, evidence: Evidence) => string;

/** @param words  what makes two findings the same; the rule, unless told otherwise */
export function statements(
  findings: readonly Finding[],
  evidence: Evidence,
  decisions: Decisions,
  words: Words = (finding) => ruleWords(finding.criterion, evidence),
): Statement[] {
  const found = new Map<string, Statement>();
  for (const finding of findings) {
    const rule = words(finding, evidence);
    const decision = finding.decision ?? '';
    const aim = decisions[decision]?.purposes[finding.criterion.support] ?? decisions[decision]?.title ?? '';
    // What speaks against it must not read as a reason for it.
    const purpose = finding.criterion.use === 'caution' ? cautionAbout(finding.criterion.support, aim) : aim;
    const key = `${purpose}|${rule}`;
    const one = found.get(key) ?? { rule, purpose, decision, findings: [] };
    one.findings.push(finding);
    found.set(key, one);
  }
  return [...found.values()];
}

/** One line for each sentence about this visit: what was found, with every source whose rule it is. */
export const saidOnce = (findings: readonly Finding[], evidence: Evidence, decisions: Decisions): Statement[] =>
  statements(findings, evidence, decisions, (finding) => explain(finding, evidence.measures));

export function ruleWords(criterion: Criterion, { measures }: Evidence): string {
  const measure = measures[criterion.measure];
  const main =
    measure?.kind === 'sign'
      ? (measure.when?.[criterion.comparator === 'absent' ? 'absent' : 'present'] ??
        `${measure.short}: ${criterion.comparator}`)
      : limitWords(nameWithValue(measure, criterion.measure), criterion, measure);
  return [main, ...alsoWords(criterion, measures)].join(', ');
}
