import type { Criterion } from '../calculators/domain/criterion.ts';
import type { Finding } from '../calculators/evaluate/evaluate.ts';
import { categoryOf, needsAttention, urgentFindings, withinAWeek } from '../calculators/evaluate/group.ts';
import { readDecisions } from './read-content.ts';

const decisions = readDecisions();

/** The highest urgency under which the sheet and the note print a finding to act on; none where nothing asks for attention. */
export function highestUrgency(findings: readonly Finding[]): Criterion['urgency'] | undefined {
  const [first] = [...urgentFindings(findings, decisions), ...withinAWeek(findings, decisions)];
  if (first) return first.criterion.urgency;
  const leads = ({ criterion }: Finding) => ['acting', 'study'].includes(categoryOf(criterion));
  return findings.some((finding) => needsAttention(finding) && leads(finding)) ? 'routine' : undefined;
}
