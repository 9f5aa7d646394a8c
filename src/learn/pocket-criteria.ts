/** Which criteria a pocket sheet prints, and in which words; from the evidence passed in, so that it can be tested. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { Decisions } from '../../calculators/domain/decision.ts';
import { type Disease, diseaseNames } from '../../calculators/domain/diseases.ts';
import type { Evidence } from '../../calculators/domain/evidence.ts';
import type { Measures } from '../../calculators/domain/measure.ts';
import type { Source } from '../../calculators/domain/source.ts';
import { criteriaFor } from '../../calculators/evaluate/criteria-for.ts';
import { categoryOf, isUrgent } from '../../calculators/evaluate/group.ts';
import { alsoWords, ruleWords } from '../../calculators/evaluate/say.ts';

interface SheetEvidence extends Evidence {
  decisions: Decisions;
  sources: Readonly<Record<string, Pick<Source, 'short'>>>;
}

export interface Sheet {
  title: string;
  diseases: readonly Disease[];
  /** whether criteria for children belong on it */
  children: boolean;
}

export const criteriaSheets: Record<string, Sheet> = {
  als: { title: 'Criteria: ALS and motor neurone disease', diseases: ['als'], children: false },
  dmd: { title: 'Criteria: Duchenne', diseases: ['dmd'], children: true },
  sma: { title: 'Criteria: spinal muscular atrophy', diseases: ['sma'], children: true },
  dm1: { title: 'Criteria: myotonic dystrophy', diseases: ['dm1'], children: false },
  'other-chronic': {
    title: 'Criteria: other slowly progressive neuromuscular disease',
    diseases: ['other-chronic'],
    children: true,
  },
  acute: {
    title: 'Criteria: Guillain-Barr\u00e9 and myasthenia, in hospital',
    diseases: ['gbs', 'mg'],
    children: false,
  },
};

/** One line of a sheet: a criterion in words, with every source that publishes it. */
interface SheetLine {
  words: string;
  /** short names of sources, with a sign for those read in a summary and for common practice */
  by: string;
}

export interface SheetPart {
  title: string;
  lines: SheetLine[];
}

const signOf: Partial<Record<Criterion['standing'], string>> = {
  'checked-in-summary': ' (s)',
  'common-practice': ' (p)',
};

/** What leads a page and can be read off in a doorway: numbers, and the urgent signs, an urgent warning among them. */
export const leadsOnSheet = (row: Criterion): boolean =>
  row.use === 'caution' && isUrgent(row)
    ? categoryOf(row) === 'acting'
    : categoryOf(row) === 'acting' && row.use === 'decision' && (typeof row.value === 'number' || isUrgent(row));

const whenWords: Partial<Record<Criterion['urgency'], string>> = {
  emergency: 'Now: ',
  'same-day': 'Today: ',
  'within-1-week': 'Within a week: ',
};
const whenOrder: Record<Criterion['urgency'], number> = { emergency: 0, 'same-day': 1, 'within-1-week': 2, routine: 3 };

function linesOf(rows: readonly Criterion[], { measures, sources }: SheetEvidence): SheetLine[] {
  const byWords = Map.groupBy(
    [...rows].sort((a, b) => whenOrder[a.urgency] - whenOrder[b.urgency]),
    (row) => wordsOf(row, measures),
  );
  return [...byWords].map(([words, same]) => ({
    words,
    by: [
      ...new Set(same.map((row) => `${sources[row.source]?.short ?? row.source}${signOf[row.standing] ?? ''}`)),
    ].join(', '),
  }));
}

function wordsOf(row: Criterion, measures: Measures): string {
  const measure = measures[row.measure];
  const name = measure?.short ?? row.measure;
  const main = row.comparator === 'present' ? name : ruleWords(name, row, measure);
  const who = [
    row.sex,
    row.population === 'child' && 'child',
    row.minAgeYears !== undefined && row.population !== 'child' && `from ${row.minAgeYears} years`,
  ].filter(Boolean);
  const words = [main, ...alsoWords(row, measures)].join(', ').replace(/ present\b/g, '');
  const when = whenWords[row.urgency];
  const sentence = when === undefined ? `${words.charAt(0).toUpperCase()}${words.slice(1)}` : `${when}${words}`;
  return `${sentence}${who.length > 0 ? ` (${who.join(', ')})` : ''}`;
}

/** The criteria that a sheet shows for one of its diseases. */
export const sheetCriteria = (
  disease: Disease,
  { children }: Pick<Sheet, 'children'>,
  evidence: Evidence,
): Criterion[] =>
  criteriaFor({ disease }, evidence).filter((row) => leadsOnSheet(row) && (children || row.population !== 'child'));

/** A sheet's criteria under the decisions they belong to, urgent ones first. */
export function sheetParts(sheet: Sheet, evidence: SheetEvidence): SheetPart[] {
  const { decisionOf, decisions } = evidence;
  const orderOf = (decision: string) => decisions[decision]?.order ?? 0;
  return sheet.diseases.flatMap((disease) => {
    const rows = sheetCriteria(disease, sheet, evidence);
    const byDecision = [...Map.groupBy(rows, (row) => decisionOf(row.support) ?? '')].sort(
      ([a], [b]) => orderOf(a) - orderOf(b),
    );
    return byDecision.map(([decision, own]) => ({
      title: `${sheet.diseases.length > 1 ? `${diseaseNames[disease]}: ` : ''}${decisions[decision]?.title ?? decision}`,
      lines: linesOf(own, evidence),
    }));
  });
}
