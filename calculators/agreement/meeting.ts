/** What a team is asked while it decides: whether two criteria are both meant, whether a reason is one, what opens a decision. */

import type { Criterion } from '../domain/criterion.ts';
import type { Decision } from '../domain/decision.ts';
import { diseases, isAcute } from '../domain/diseases.ts';
import { categoryOf } from '../evaluate/group.ts';
import { compare, convert, convertible } from '../quantity.ts';
import type { AgreedCriterion, Agreement } from './agreement.ts';
import { departureOf, type Published, stable } from './local-criteria.ts';

/** Two criteria for the same people, measure, decision and purpose. */
export interface Twice {
  a: AgreedCriterion;
  b: AgreedCriterion;
  /** they have the same threshold as well: one of them is superfluous */
  same: boolean;
}

/** @returns each pair once, in the order of the agreement */
export function criteriaTwice({ marks }: Pick<Agreement, 'marks'>, published: Published): Twice[] {
  return marks.flatMap((a, place) =>
    marks
      .slice(place + 1)
      .filter((b) => sameQuestion(a, b, published) && sharePeople(a, b))
      .map((b) => ({ a, b, same: sameThreshold(a, b) })),
  );
}

/** Those that nobody has said are both meant. */
export const twiceToAsk = (agreement: Pick<Agreement, 'marks' | 'minutes'>, published: Published): Twice[] =>
  criteriaTwice(agreement, published).filter((pair) => !isMeant(pair, agreement));

export const isMeant = ({ a, b }: Twice, { minutes }: Pick<Agreement, 'minutes'>): boolean =>
  minutes?.meant?.some((pair) => pair.includes(a.id) && pair.includes(b.id)) ?? false;

const sameQuestion = (a: AgreedCriterion, b: AgreedCriterion, published: Published): boolean =>
  a.decision === b.decision &&
  a.measure === b.measure &&
  a.comparator.charAt(0) === b.comparator.charAt(0) &&
  stable(purposeOf(a, published)) === stable(purposeOf(b, published));

/** What a rule asks for and under which conditions; how soon, and how it is worded, makes no second question. */
function purposeOf({ decision, rule = {} }: AgreedCriterion, { decisions }: Published): unknown {
  const { notFor: _n, attentionWhen: _w, act: _a, urgentPage: _p, urgency: _u, atThreshold: _t, ...asked } = rule;
  const use = rule.use === undefined || rule.use === 'evidence' ? 'decision' : rule.use;
  return { ...asked, use, support: rule.support ?? decisions[decision]?.supports[0] };
}

const sharePeople = (a: AgreedCriterion, b: AgreedCriterion): boolean =>
  diseasesOf(a).some((disease) => diseasesOf(b).includes(disease)) &&
  (a.population === b.population || a.population === 'any' || b.population === 'any') &&
  (a.sex === undefined || b.sex === undefined || a.sex === b.sex);

const diseasesOf = ({ disease, rule }: AgreedCriterion): readonly string[] =>
  (disease === 'any' ? diseases.filter((one) => !isAcute(one)) : [disease]).filter(
    (one) => !rule?.notFor?.diseases.includes(one),
  );

function sameThreshold(a: AgreedCriterion, b: AgreedCriterion): boolean {
  if (a.comparator !== b.comparator) return false;
  if (a.value === undefined || b.value === undefined || a.unit === undefined || b.unit === undefined)
    return a.value === b.value;
  return convertible(a.unit, b.unit) && compare(convert(a.value, a.unit, b.unit), b.value, a.unit !== b.unit) === 0;
}

const fewestWords = 4;
/**
 * Asked while a team decides, never of a file that is opened: a criterion that fewer readings meet than any published one
 * needs a reason in words.
 */
export function thinReason(criterion: AgreedCriterion, published: Published): string | undefined {
  if (departureOf(criterion, published) !== 'less-cautious') return undefined;
  const words = criterion.reason?.match(/\p{L}{2,}/gu) ?? [];
  return words.length >= fewestWords
    ? undefined
    : `It is less cautious than every published criterion. Give the reason in at least ${fewestWords} words`;
}

/** What looks wrong with a phone number that has the form of one. A question, no refusal. */
export function phoneRemark(number: string): string | undefined {
  const [main = ''] = number.split(/ ?(?:ext|x)\.? ?/i);
  const digits = main.replace(/\D/g, '');
  const brackets = (main.match(/[()]/g) ?? []).join('').replaceAll('()', '');
  if (brackets !== '') return 'The brackets do not match. Check the number';
  if (digits.length > 15) return 'This number has more than 15 digits, and no phone number does. Check the number';
  if (digits.length < 7)
    return `This number has only ${digits.length} digits. If it is an extension, add the number to call from outside`;
  if (main.startsWith('+') && /^\+\s*\(?0/.test(main)) return 'A country code does not start with 0. Check the number';
  return undefined;
}

/** The published thresholds that open the conversation about a decision, those of the disease first. */
export function openingRows(
  { openedBy }: Decision,
  rows: readonly Criterion[],
  disease: AgreedCriterion['disease'],
): Criterion[] {
  const own = (row: Criterion) => Number(row.disease === disease);
  return rows
    .filter((row) => openedBy.includes(row.support) && row.use === 'decision' && categoryOf(row) === 'acting')
    .sort((a, b) => own(b) - own(a));
}

/** The measures that most visits have first, in the order of the visit sheet; then the others as they come. */
export const usualFirst = (
  measures: readonly string[],
  usual: readonly string[],
): { usual: string[]; other: string[] } => ({
  usual: usual.filter((id) => measures.includes(id)),
  other: measures.filter((id) => !usual.includes(id)),
});

/** One criterion for each of several diseases, with an id of its own each. */
export const forDiseases = (
  criterion: AgreedCriterion,
  chosen: readonly AgreedCriterion['disease'][],
  taken: readonly string[],
): AgreedCriterion[] => {
  const used = [...taken];
  return chosen.map((disease) => {
    const id = freeId(criterion.id, used);
    used.push(id);
    return { ...criterion, disease, id };
  });
};

/** @returns the id itself where nobody has it; else the next number after its words: 'night-ventilation-3' */
export function freeId(id: string, taken: readonly string[]): string {
  if (!taken.includes(id)) return id;
  const stem = id.replace(/-\d+$/, '');
  for (let number = 1; ; number += 1) if (!taken.includes(`${stem}-${number}`)) return `${stem}-${number}`;
}

/** The draft of a revision: the agreement as it is, dated today, not agreed yet, with the next number. */
export const revisionOf = (agreement: Agreement, today: string, review: string): Agreement => {
  const { signed: _signed, ...rest } = agreement;
  return { ...rest, status: 'draft', revision: (agreement.revision ?? 1) + 1, agreed: today, review };
};
