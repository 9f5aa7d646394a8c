/**
 * From a text that may come from anywhere to an agreement, or to messages that name the place. Nothing of the text is
 * used before all of it fits: first its size, then its form, then every id, unit and number compared with the handbook.
 */

import { comparators } from '../domain/comparator.ts';
import type { Criterion } from '../domain/criterion.ts';
import { diseases } from '../domain/diseases.ts';
import type { z } from '../domain/schema.ts';
import { type Path, pathWords, readLocatedJson } from '../exchange/located-json.ts';
import { foundWords, issueWords, nearestLine, thousands, valueAt } from '../exchange/schema-faults.ts';
import { convert, convertible, units } from '../quantity.ts';
import { besideChanged, changedEvidence } from './agreed-evidence.ts';
import { type AgreedCriterion, Agreement, hiddenCharacter, limits } from './agreement.ts';
import { departureWords } from './agreement-words.ts';
import { basisOf, departureOf, isAsPublished, type Published, rowsBeside } from './local-criteria.ts';

interface AgreementProblem {
  /** 'marks[3].value'; empty when it is about the whole text */
  path: string;
  line?: number | undefined;
  message: string;
}

export type ReadAgreement =
  | { ok: true; agreement: Agreement; warnings: string[] }
  | { ok: false; problems: AgreementProblem[] };

const mostProblems = 20;

/** 'clinic-agreement.json, marks[3].value (line 41): expected a number above 0, found "40%"' */
export const problemWords = (name: string, { path, line, message }: AgreementProblem): string => {
  const place = [path, line === undefined ? '' : path === '' ? `line ${line}` : `(line ${line})`]
    .filter(Boolean)
    .join(' ');
  return `${name}${place === '' ? '' : `, ${place}`}: ${message}`;
};

/** What happened and what to do, in one line; the places are for whoever wrote the file. */
export function refusalWords(problems: readonly AgreementProblem[]): string {
  const says = (words: RegExp) => problems.some(({ message }) => words.test(message));
  if (says(/cut short|part of this link is missing|this link cannot be read/))
    return 'Part of the agreement is missing. Ask the sender to send it again, as a file.';
  if (says(/newer than this copy/))
    return 'The agreement was made with a newer version of the handbook. Go online to update this copy of the handbook, then open the agreement again.';
  if (says(/not an agreement file|holds no agreement|no link to an agreement|expected a value|expected an agreement/))
    return 'This is not a clinic agreement. Look for the right file or link.';
  if (says(/^expected at most .* characters, found/))
    return 'The file is too large to be an agreement. Ask for the right file.';
  return 'The agreement does not fit this copy of the handbook. Show the list below to the person who sent it.';
}

/** Reads the text of a file or a link. @returns the agreement, or every reason why it is none, first places first */
export function readAgreement(text: string, published: Published): ReadAgreement {
  if (text.length > limits.file)
    return refusal('', `expected at most ${thousands(limits.file)} characters, found ${thousands(text.length)}`);
  const read = readLocatedJson(text.replace(/^\ufeff/, ''));
  if (!read.ok)
    return { ok: false, problems: [{ path: pathWords(read.path), line: read.line, message: read.message }] };
  const checked = checkAgreement(read.value, published);
  if (checked.ok) return checked;
  return {
    ok: false,
    problems: checked.problems.map(({ at, message }) => ({
      path: pathWords(at),
      line: nearestLine(at, read.lineOf),
      message,
    })),
  };
}

/** The same for data that was read already, as YAML is when the site is built. */
export function checkAgreement(
  value: unknown,
  published: Published,
): { ok: true; agreement: Agreement; warnings: string[] } | { ok: false; problems: { at: Path; message: string }[] } {
  const unknown = notOurs(value);
  if (unknown) return { ok: false, problems: [unknown] };
  const parsed = Agreement.safeParse(value);
  if (!parsed.success)
    return {
      ok: false,
      problems: parsed.error.issues.flatMap((issue) => formProblems(issue, value)).slice(0, mostProblems),
    };
  const problems = meaningProblems(parsed.data, published);
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, mostProblems) };
  return { ok: true, agreement: parsed.data, warnings: warningsOf(parsed.data, published) };
}

interface PlacedProblem {
  at: Path;
  message: string;
}

const refusal = (path: string, message: string): ReadAgreement => ({ ok: false, problems: [{ path, message }] });

/** Another kind of file, or one of another version, is named as such before its fields are. */
function notOurs(value: unknown): PlacedProblem | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return { at: [], message: `expected an agreement, found ${foundWords(value)}` };
  const { format, version } = value as Record<string, unknown>;
  if (format !== 'tidemark-agreement')
    return {
      at: ['format'],
      message: `expected "tidemark-agreement", found ${foundWords(format)}: this is not an agreement file`,
    };
  if (version !== 1)
    return {
      at: ['version'],
      message: `expected 1, found ${foundWords(version)}${typeof version === 'number' && version > 1 ? ': the file is newer than this copy of the handbook' : ''}`,
    };
  return undefined;
}

/** What a field should contain, by its name: one wording whatever is wrong with it. */
const expectations: Record<string, string> = {
  value: 'a number above 0',
  unit: 'a unit code such as %, L/min or cm[H2O]',
  weeks: `a number of weeks from 0 to ${limits.waitWeeks}`,
  staleAfterMonths: 'a whole number of months from 0 to 60',
  number: 'a phone number: digits, spaces and + ( ) . / -',
  agreed: 'a date that exists, such as 2026-11-25',
  review: 'a date that exists, such as 2026-11-25',
  date: 'a date that exists, such as 2026-11-25',
  disease: `any or one of ${diseases.join(', ')}`,
  comparator: `one of ${comparators.join(' ')}`,
};

function formProblems(issue: z.core.$ZodIssue, value: unknown): PlacedProblem[] {
  const at = issue.path.filter((step) => typeof step !== 'symbol') as Path;
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({ at: [...at, key], message: 'not a field of an agreement' }));
  const here = valueAt(value, at);
  // The union of two forms of a condition says nothing useful by itself.
  if (issue.code === 'invalid_union')
    return [
      { at, message: `expected a condition of a rule, or a list of signs under anyOf, found ${foundWords(here)}` },
    ];
  const hidden = typeof here === 'string' ? hiddenCharacter.exec(here)?.[0] : undefined;
  if (hidden !== undefined)
    return [{ at, message: `expected plain text, found a hidden character (${codePoint(hidden)})` }];
  const wanted = sized(issue, here) ? undefined : expectations[String(at.at(-1))];
  return [{ at, message: wanted ? `expected ${wanted}, found ${foundWords(here)}` : issueWords(issue, here) }];
}

/** Too long or too short: what the field is about does not help then. */
const sized = (issue: z.core.$ZodIssue, value: unknown): boolean =>
  (issue.code === 'too_big' || issue.code === 'too_small') && (typeof value === 'string' || Array.isArray(value));

const codePoint = (character: string): string =>
  `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;

/** What fits the schema, compared with itself and with the handbook. */
function meaningProblems(agreement: Agreement, published: Published): PlacedProblem[] {
  const problems: PlacedProblem[] = [];
  if (agreement.review < agreement.agreed)
    problems.push({
      at: ['review'],
      message: `expected a date from ${agreement.agreed} on, found "${agreement.review}"`,
    });
  if (agreement.group !== undefined && agreement.referenceSet === undefined)
    problems.push({ at: ['group'], message: 'expected a reference set for this group, found nothing' });
  const seen = new Map<string, number>();
  for (const [place, criterion] of agreement.marks.entries()) {
    const at: Path = ['marks', place];
    const first = seen.get(criterion.id);
    if (first !== undefined)
      problems.push({
        at: [...at, 'id'],
        message: `expected its own id, found "${criterion.id}", which marks[${first}] has`,
      });
    seen.set(criterion.id, place);
    problems.push(...criterionProblems(criterion, at, published, agreement.status === 'signed'));
  }
  return problems;
}

/**
 * What stops one criterion; also for a form that is still being filled in.
 *
 * @param signed  the agreement was signed. What is published may change under a criterion that was agreed on: that is a
 *                warning (`warningsOf`), never a reason to refuse what a clinic has signed
 */
export function criterionProblems(
  criterion: AgreedCriterion,
  at: Path,
  published: Published,
  signed = false,
): PlacedProblem[] {
  const problem = (field: string, message: string): PlacedProblem => ({ at: [...at, field], message });
  const decision = Object.hasOwn(published.decisions, criterion.decision)
    ? published.decisions[criterion.decision]
    : undefined;
  if (decision === undefined) return [problem('decision', `no decision here is called "${criterion.decision}"`)];
  if (decision.coverage)
    return [problem('decision', `"${criterion.decision}" holds payer rules, which a clinic cannot set`)];
  const conditions = conditionProblems(criterion, at, published);
  if (conditions.length > 0) return conditions;
  const basis = basisOf(criterion, published);
  const changed = besideChanged(criterion, rowsBeside(criterion, published));
  const agreedOn = signed || changed;
  const problems = agreedOn ? [] : ruleProblems(criterion, at, published);
  if (criterion.basis !== undefined && basis === undefined)
    return signed || criterion.beside !== undefined
      ? []
      : [...problems, problem('basis', `no published criterion here is called "${criterion.basis}"`)];
  if (basis && !agreedOn) {
    const wrong = basisProblem(criterion, basis, published);
    if (wrong) return [...problems, problem(wrong.field, wrong.message)];
    if (basis.standing === 'from-memory' && criterion.read === undefined)
      problems.push(
        problem('read', `expected who read the source, when and where: the number of "${basis.id}" is not yet checked`),
      );
  }
  if (criterion.reason === undefined && !agreedOn) {
    const departs = departureOf(criterion, published);
    if (!isAsPublished(criterion, published) || departs !== undefined)
      problems.push(
        problem('reason', `expected a reason, found nothing${departs ? `. ${departureWords[departs]}` : ''}`),
      );
  }
  return problems;
}

/** Its own comparison and those of its rule: known measures, the right kind, a unit that fits, a number that can be. */
function conditionProblems(criterion: AgreedCriterion, at: Path, published: Published): PlacedProblem[] {
  const also = criterion.rule?.alsoRequires ?? [];
  const parts: [Condition, Path][] = [
    [criterion, at],
    ...(criterion.rule?.alternative
      ? ([[criterion.rule.alternative, [...at, 'rule', 'alternative']]] as [Condition, Path][])
      : []),
    ...also.flatMap((part, place): [Condition, Path][] =>
      'anyOf' in part
        ? part.anyOf.map((measure) => [{ measure, comparator: 'present' }, [...at, 'rule', 'alsoRequires', place]])
        : [[part, [...at, 'rule', 'alsoRequires', place]]],
    ),
  ];
  return parts.flatMap(([condition, place]) => conditionProblem(condition, place, published) ?? []);
}

type Condition = Pick<AgreedCriterion, 'measure' | 'comparator' | 'value' | 'unit'>;

function conditionProblem(
  { measure: id, comparator, value, unit }: Condition,
  at: Path,
  { measures }: Published,
): PlacedProblem | undefined {
  const problem = (field: string, message: string): PlacedProblem => ({ at: [...at, field], message });
  const measure = Object.hasOwn(measures, id) ? measures[id] : undefined;
  if (measure === undefined) return problem('measure', `no measure here is called "${id}"`);
  if (measure.kind === 'schedule')
    return problem('measure', `"${id}" is a moment in the record, and no reading is compared with it`);
  const sign = comparator === 'present' || comparator === 'absent';
  if (measure.kind === 'sign') {
    if (!sign)
      return problem('comparator', `expected present or absent: "${id}" is a sign, found ${foundWords(comparator)}`);
    return value === undefined && unit === undefined
      ? undefined
      : problem('value', `expected nothing: "${id}" is a sign, found ${foundWords(value)}`);
  }
  if (sign) return problem('comparator', `expected < <= > or >=: "${id}" is a number, found ${foundWords(comparator)}`);
  if (value === undefined) return problem('value', 'expected a number above 0, found nothing');
  if (value <= 0) return problem('value', `expected a number above 0, found ${value}`);
  if (unit === undefined) return problem('unit', `expected ${unitName(measure.unit)}, found nothing`);
  if (!convertible(unit, measure.unit))
    return problem('unit', `expected ${unitName(measure.unit)} or a unit that converts to it, found "${unit}"`);
  const [low, high] = measure.hard.map((end) => Number(convert(end, measure.unit, unit).toPrecision(6)));
  return value < (low ?? 0) || value > (high ?? 0)
    ? problem(
        'value',
        `expected a number from ${Math.max(0, low ?? 0)} to ${high} ${units[unit].symbol}, found ${value}`.replace(
          ' ,',
          ',',
        ),
      )
    : undefined;
}

const unitName = (unit: AgreedCriterion['unit'] & string): string => `"${unit}"`;

/** A support that belongs to another decision would put the criterion on a page that the team did not look at. */
function ruleProblems({ rule, decision }: AgreedCriterion, at: Path, { decisionOf }: Published): PlacedProblem[] {
  if (rule?.support === undefined || decisionOf(rule.support) === decision) return [];
  return [{ at: [...at, 'rule', 'support'], message: `expected a support of "${decision}", found "${rule.support}"` }];
}

function basisProblem(
  criterion: AgreedCriterion,
  basis: Criterion,
  { decisionOf }: Published,
): { field: string; message: string } | undefined {
  if (basis.measure !== criterion.measure)
    return { field: 'basis', message: `"${basis.id}" is about "${basis.measure}", not "${criterion.measure}"` };
  if (decisionOf(basis.support) !== criterion.decision)
    return {
      field: 'basis',
      message: `"${basis.id}" belongs to "${decisionOf(basis.support)}", not to "${criterion.decision}"`,
    };
  if (basis.comparator.charAt(0) !== criterion.comparator.charAt(0))
    return { field: 'comparator', message: `"${basis.id}" is about the other side: ${basis.comparator}` };
  if (basis.disease !== 'any' && basis.disease !== criterion.disease)
    return {
      field: 'disease',
      message: `"${basis.id}" was published for ${basis.disease}: for "${criterion.disease}", set a criterion without a basis`,
    };
  if (basis.population !== 'any' && basis.population !== criterion.population)
    return {
      field: 'population',
      message: `"${basis.id}" was published for population ${basis.population}: for "${criterion.population}", set a criterion without a basis`,
    };
  if (basis.sex !== undefined && basis.sex !== criterion.sex)
    return { field: 'sex', message: `"${basis.id}" was published for ${basis.sex}` };
  return undefined;
}

function warningsOf(agreement: Agreement, published: Published): string[] {
  const affected = changedEvidence(agreement, published);
  const unrecorded = agreement.marks.filter((criterion) => criterion.beside === undefined).length;
  return [
    agreement.marks.length === 0 ? 'The agreement sets no criterion.' : '',
    affected.length > 0
      ? `The published evidence for ${affected.length === 1 ? 'one of its criteria' : `${affected.length} of its criteria`} has changed since the meeting. The team should review it.`
      : '',
    ...affected.map(({ criterion, why }) =>
      why === 'basis-gone'
        ? `The published criterion "${criterion.basis}", which "${criterion.id}" was taken from, is no longer in the handbook. It is used as it was agreed.`
        : '',
    ),
    unrecorded > 0
      ? `${unrecorded === agreement.marks.length ? 'The agreement does' : `${unrecorded} of its criteria do`} not record which published criteria were used for the comparison, so this page cannot tell whether the evidence has changed.`
      : '',
  ].filter(Boolean);
}
