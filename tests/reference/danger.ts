/** The danger table as visits, and everything the pure code says about one: what the sheet, the note and the card print. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { type Visit, wishWords } from '../../calculators/domain/visit.ts';
import { actOf, declinedLines, urgencyTitles } from '../../calculators/evaluate/act.ts';
import { derive } from '../../calculators/evaluate/derive.ts';
import { type Evidence, evaluate, type Finding } from '../../calculators/evaluate/evaluate.ts';
import { explain, supportWords } from '../../calculators/evaluate/explain.ts';
import { categoryOf, needsAttention, tally, tallyWords } from '../../calculators/evaluate/group.ts';
import { outsideUsual, outsideWords } from '../../calculators/evaluate/outside-usual.ts';
import { standingWords } from '../../calculators/standing.ts';
import { noteText, plainNote } from '../../calculators/visit/note.ts';
import { highestUrgency } from '../highest-urgency.ts';
import { readDecisions, readEvidence, readSources } from '../read-content.ts';

type Urgency = Criterion['urgency'];

export interface Danger {
  id: string;
  situation: string;
  person: Pick<Visit, 'disease' | 'ageYears' | 'sex' | 'heightCm'>;
  readings?: Visit['readings'];
  signs?: Visit['signs'];
  supports?: NonNullable<Visit['supports']>;
  wishes?: NonNullable<Visit['wishes']>;
  urgency?: Urgency | 'none';
  atLeast?: Urgency;
  atMost?: Urgency;
  leads: string[];
  note: string[];
  plain: string[];
  never: string[];
  line?: string;
  lineLeads?: string[];
}

export const readDangers = (file: 'danger-table' | 'danger-held'): Danger[] =>
  parse(readFileSync(`tests/reference/${file}.yaml`, 'utf8'));

export const evidence: Evidence = readEvidence();
const decisions = readDecisions();
const sources = readSources();
const sourceName = (id: string) => sources[id]?.short ?? id;

export const visitOf = ({ person, readings = {}, signs = {}, supports = {}, wishes = [] }: Danger): Visit =>
  derive({ ...person, readings, signs, supports, wishes }, { set: 'gli-2022-global' });

export interface Shown {
  highest: Urgency | 'none';
  /** headline, sentence and action of the findings in the leading group */
  lead: string;
  note: string;
  plain: string;
  tally: string;
}

export function shownFor(danger: Danger): Shown {
  const visit = visitOf(danger);
  const findings = evaluate(visit, evidence);
  const highest = highestUrgency(findings) ?? 'none';
  const shown = findings.filter(
    (finding) =>
      needsAttention(finding) &&
      ['acting', 'study'].includes(categoryOf(finding.criterion)) &&
      finding.criterion.urgency === highest,
  );
  const unusual = outsideUsual(visit, findings, evidence).map((one) =>
    outsideWords(one, evidence, sourceName, standingWords),
  );
  const input = {
    visit,
    findings,
    evidence,
    decisions,
    sourceName,
    date: '2026-11-29',
    evidenceDate: '2026-11-29',
  };
  return {
    highest: highest === 'routine' && danger.urgency === 'none' ? 'none' : highest,
    lead: [
      highest === 'none' ? '' : urgencyTitles[highest],
      ...shown.map((finding) => findingText(finding, visit)),
      ...(visit.wishes ?? []).map((wish) => wishWords[wish]),
      ...(highest === 'routine' || highest === 'none' ? [] : declinedLines(visit, decisions)),
      ...(highest === 'routine' || highest === 'none' ? unusual : []),
    ].join('\n'),
    note: noteText(input),
    plain: plainNote(input),
    tally: tallyWords(tally(findings)),
  };
}

const findingText = (finding: Finding, visit: Visit): string =>
  [
    finding.criterion.urgency === 'routine' || finding.criterion.urgency === 'within-1-week'
      ? ''
      : actOf(finding, visit.wishes),
    explain(finding, evidence.measures),
    finding.criterion.action,
    finding.support && finding.support !== 'none' ? supportWords[finding.support] : '',
  ].join(' ');

const order = ['none', 'routine', 'within-1-week', 'same-day', 'emergency'] as const;
const rank = (urgency: Urgency | 'none') => order.indexOf(urgency);

/** What is missing or wrong, in words; empty when all is as the table asks. */
export function faultsOf(danger: Danger, shown: Shown): string[] {
  const { urgency, atLeast, atMost } = danger;
  // A no-break space is a space to a reader.
  const plainSpaces = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');
  const missing = (where: string, patterns: readonly string[], text: string) =>
    patterns.filter((one) => !new RegExp(one, 'i').test(plainSpaces(text))).map((one) => `${where} lacks /${one}/`);
  const all = [shown.lead, shown.note, shown.plain, shown.tally].join('\n');
  return [
    ...(urgency !== undefined && shown.highest !== urgency ? [`urgency is ${shown.highest}, not ${urgency}`] : []),
    ...(atLeast !== undefined && rank(shown.highest) < rank(atLeast)
      ? [`urgency ${shown.highest} is below ${atLeast}`]
      : []),
    ...(atMost !== undefined && rank(shown.highest) > rank(atMost)
      ? [`urgency ${shown.highest} is above ${atMost}`]
      : []),
    ...missing('the lead', danger.leads ?? [], shown.lead),
    ...missing('the note', danger.note ?? [], shown.note),
    ...missing('the plain version', danger.plain ?? [], shown.plain),
    ...(danger.never ?? []).filter((one) => new RegExp(one, 'i').test(plainSpaces(all))).map((one) => `says /${one}/`),
  ];
}
