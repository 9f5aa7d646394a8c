/**
 * Findings as a colleague writes them: a line for each decision, each reading named once with all the thresholds that it
 * meets, and each statement once with all the sources that make it.
 */

import { standingLine } from '../agreement/agreement-words.ts';
import type { Measures } from '../domain/measure.ts';
import type { Finding } from '../evaluate/evaluate.ts';
import { explain, supportWords, withoutItems } from '../evaluate/explain.ts';
import { byDecision, categoryOf, isUrgent, needsAttention } from '../evaluate/group.ts';
import { standingWords } from '../standing.ts';
import type { NoteInput } from './note-input.ts';
import { lowerFirst } from './sentences.ts';

/** Who says so. A clinic's own criterion is never shown as a published one, and how it departs is named with it. */
export const sourceOf = ({ sourceName }: NoteInput, { criterion }: Finding): string =>
  criterion.local
    ? lowerFirst(standingLine(criterion))
    : `${sourceName(criterion.source)}${criterion.standing === 'from-memory' ? `, ${standingWords['from-memory']}` : ''}`;

/** Whole sentences, each once, with all the sources that say it: for what is urgent, which may be all that is read. */
export function sentencesOf(input: NoteInput, findings: readonly Finding[]): string[] {
  const sources = new Map<string, Set<string>>();
  for (const finding of findings) {
    const words = explain(finding, input.evidence.measures);
    sources.set(words, (sources.get(words) ?? new Set()).add(sourceOf(input, finding)));
  }
  return [...sources].map(([words, by]) => `${words} [${[...by].join('; ')}]`);
}

interface Said {
  /** 'SNIP 38 cmH2O is'; empty for a statement without a number */
  subject: string;
  /** 'below 40 cmH2O, with symptoms'; or the whole statement */
  where: string;
  /** whose criterion it is, and what it leaves open: 'DMD care 2018, unless the person can still walk' */
  by: string;
}

export function saidInParts(input: NoteInput, finding: Finding): Said {
  const { measures } = input.evidence;
  // The signs that make up a list are named once, under what is present.
  const short = isUrgent(finding.criterion) || finding.criterion.urgency === 'within-1-week';
  const [words = '', ...exceptions] = explain(short ? finding : withoutItems(finding), measures)
    .replace(/\.$/, '')
    .split('. This finding applies ');
  const told = lowerFirst(words).replace(/, and there (is|are) /g, ', with ');
  const by = [sourceOf(input, finding), ...exceptions].join(', ');
  const [, subject, where] = /^(.+? (?:is|are|reads?)) ((?:at or )?(?:below|above) .*)$/s.exec(told) ?? [];
  return subject !== undefined && where !== undefined && isOfNumber(finding, measures)
    ? { subject, where, by }
    : { subject: '', where: told, by };
}

/** Whether the sentence begins with a reading and its threshold. */
function isOfNumber({ parts, result }: Finding, measures: Measures): boolean {
  const first = parts.find(({ truth, assumed }) => truth === result && !assumed);
  return first?.reading !== undefined && measures[first.measure]?.kind === 'number';
}

/** 'FVC 38 % predicted is below 80 % predicted [CHEST 2023], and below 50 % predicted [CHEST 2023]; the cough is weak [...]' */
export function statementsOf(input: NoteInput, findings: readonly Finding[]): string {
  const subjects = new Map<string, Map<string, Set<string>>>();
  for (const finding of findings) {
    const { subject, where, by } = saidInParts(input, finding);
    // What has no number stands by itself.
    const key = subject === '' ? where : subject;
    const told = subject === '' ? '' : where;
    const under = subjects.get(key) ?? new Map<string, Set<string>>();
    subjects.set(key, under.set(told, (under.get(told) ?? new Set()).add(by)));
  }
  return [...subjects].map(([subject, under]) => `${subject}${bySources(under)}`).join('; ');
}

/** Thresholds of the same sources share their brackets: ' below 40, and below 55, with symptoms [NICE NG42]' */
function bySources(under: ReadonlyMap<string, ReadonlySet<string>>): string {
  const groups = new Map<string, string[]>();
  for (const [where, by] of under) {
    const sources = [...by].join('; ');
    groups.set(sources, [...(groups.get(sources) ?? []), where]);
  }
  return [...groups].map(([by, wheres]) => ` ${wheres.join(', and ')} [${by}]`.replace(/^ {2}/, ' ')).join(', and');
}

/** What is met of each decision: a line for the clinic's own criteria, then one for the published ones. `named` has been told already. */
export function decisionLines(input: NoteInput, named: readonly Finding[]): string[] {
  return byDecision(input.findings, input.decisions).flatMap(({ decision, categories }) => {
    const met = categories.acting.filter((finding) => needsAttention(finding) && !named.includes(finding));
    const { title = decision, coverage } = input.decisions[decision] ?? {};
    if (coverage) return [];
    const local = met.filter(({ criterion }) => criterion.local);
    const published = met.filter(({ criterion }) => !criterion.local);
    const support = met[0]?.support;
    const remark = support && support !== 'none' ? `. ${supportWords[support]} Met` : '';
    const line = (of: string, some: readonly Finding[]) =>
      some.length > 0 ? [`${title}${of}${remark}: ${statementsOf(input, some)}`] : [];
    return [...line(`, criteria of ${local[0]?.criterion.local?.clinic}`, local), ...line('', published)];
  });
}

/** Findings that a note holds only when it is asked for them: payer rules, and figures of studies. */
export function setAside({ findings }: NoteInput, named: readonly Finding[]) {
  const met = findings.filter((finding) => needsAttention(finding) && !named.includes(finding));
  const payer = met.filter(({ criterion }) => criterion.use === 'coverage' && categoryOf(criterion) === 'acting');
  const study = met.filter(({ criterion }) => criterion.use !== 'coverage' && categoryOf(criterion) === 'study');
  return { payer, study };
}
