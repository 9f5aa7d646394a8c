import type { Decisions } from '../../../calculators/domain/decision.ts';
import { actOf, urgencyTitles } from '../../../calculators/evaluate/act.ts';
import { tally, tallyWords, urgentFindings } from '../../../calculators/evaluate/group.ts';
import { outsideUsual } from '../../../calculators/evaluate/outside-usual.ts';
import { type Entries, isTouched } from './entries.ts';
import type { Results } from './use-results.ts';

/** The findings counted, for the bar under the form and for a screen reader. */
export interface Summary {
  /** Before anything is entered, hundreds of undecided criteria would only put a reader off. */
  shown: boolean;
  /** 'Emergency: call the emergency number now.' of the first urgent finding */
  urgent: string;
  /** the counts of what was found, in words */
  found: string;
  met: number;
  decided: number;
  of: number;
}

export function summaryOf({ visit, findings, evidence }: Results, decisions: Decisions, entries: Entries): Summary {
  const [first] = urgentFindings(findings, decisions);
  const urgent = first ? `${urgencyTitles[first.criterion.urgency]}: ${actOf(first, entries.wishes)}` : '';
  const count = tally(findings);
  const unusual = outsideUsual(visit, findings, evidence).length;
  return {
    shown: isTouched(entries) || count.met > 0 || first !== undefined,
    urgent,
    found: tallyWords(count, unusual),
    met: count.met,
    decided: count.decided,
    of: count.of,
  };
}

export const spokenSummary = ({ shown, urgent, found, decided, of }: Summary): string =>
  shown
    ? `${urgent === '' ? '' : `${urgent} `}${found}, ${decided} of ${of} decided; the others cannot be decided yet`
    : '';
