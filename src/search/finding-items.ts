/** One criterion, or one statement that several sources hold, as an item of a list. */
import { adultsOfSex } from '../../calculators/domain/age-and-sex.ts';
import type { Criterion } from '../../calculators/domain/criterion.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import type { Finding } from '../../calculators/evaluate/evaluate.ts';
import { explain } from '../../calculators/evaluate/explain.ts';
import type { Truth } from '../../calculators/evaluate/logic.ts';
import type { Statement } from '../../calculators/query/answer.ts';
import { standingWords } from '../../calculators/standing.ts';
import { type Child, link, make, makeSvg } from '../browser/dom.ts';
import { afterMark, resultBox, resultShapes, resultWord, resultWords, shownAs } from '../components/result-shapes.ts';
import type { Context } from './context.ts';

/** The mark and the word of a result, as everywhere: ResultMark.tsx. */
function resultMark(result: Truth, word = resultWords[result]): HTMLElement {
  const shape = makeSvg('svg', { viewBox: resultBox, 'aria-hidden': 'true' });
  shape.append(makeSvg('path', { d: resultShapes[result] }));
  return make('span', `result-mark ${result}`, shape, word);
}

/** One rule in one line, and under it whoever holds it. */
export function statementItem({ rule, findings }: Statement, context: Context): HTMLElement {
  const first = findings[0];
  // A sign that follows from a reading is said with the reading.
  const implied = first?.parts.some(({ impliedBy }) => impliedBy !== undefined);
  const state = first && findings.every(({ result }) => result === 'cannot-tell') ? 'cannot-tell' : 'met';
  const whole = first && implied ? explainMet(first, context) : rule;
  // A flag stays in the sentence of what it weakens.
  const { said, because } = implied && first?.flags.length === 0 ? parted(whole) : { said: whole, because: '' };
  const flagged = first?.flags.length && !implied ? ` ${explainMet(first, context)}` : '';
  return make(
    'li',
    `finding ${state}`,
    make('p', 'said', resultMark(state), ` ${capital(said)}`, flagged),
    make('p', 'small', because, ...sourcesOf(findings, context), ...cautionOf(first)),
  );
}

/** The rule, and apart from it the reading that it follows from and what would speak against it. */
function parted(sentence: string): { said: string; because: string } {
  const found = /^(.+?) \((.+?)\)(.*)$/.exec(sentence);
  const [, said = sentence, reading = '', rest = ''] = found ?? [];
  // Words that go on after the bracket belong to the rule.
  if (!found || !/^\.(?: |$)/.test(rest)) return { said: sentence, because: '' };
  return { said, because: `${capital(reading)}${rest} ` };
}

const cautionOf = (finding: Finding | undefined): Child[] =>
  finding?.criterion.use === 'caution' && finding.criterion.action !== ''
    ? [` ${withoutSource(finding.criterion.action)}`]
    : [];

function sourcesOf(findings: readonly Finding[], { data, base, agreedLine }: Context): Child[] {
  const byStanding = new Map<string, Child[]>();
  for (const finding of findings) {
    const { criterion } = finding;
    const whose = whoseWords(finding);
    const where = criterion.local
      ? link(`${base}agree/`, agreedLine?.(criterion) ?? criterion.source)
      : link(`${base}sources/${criterion.source}/#${criterion.id}`, data.sources[criterion.source] ?? criterion.source);
    // 'Common practice' is the name of that source, and how it is known.
    const how = criterion.local || criterion.source === 'trade-practice' ? '' : standingWords[criterion.standing];
    const list = byStanding.get(how) ?? [];
    if (list.length > 0) list.push(', ');
    list.push(where, whose === '' ? '' : ` (${whose})`);
    byStanding.set(how, list);
  }
  return [...byStanding]
    .flatMap(([how, list], at) => [...(at > 0 ? ['; '] : []), ...list, how === '' ? '' : `: ${how}`])
    .concat('.');
}

/** Which people a criterion is for, where the line does not settle it. */
const whoseWords = ({ criterion, missing }: Finding): string =>
  [
    missing.includes('disease') && criterion.disease !== 'any' ? diseaseShort[criterion.disease] : '',
    missing.includes('sex') && criterion.sex ? adultsOfSex[criterion.sex] : '',
    criterion.acute ? 'acute illness' : '',
  ]
    .filter(Boolean)
    .join(', ');

/** The sentence of a finding as if the person were the one it is for. */
export const explainMet = (finding: Finding, { evidence }: Context): string =>
  explain({ ...finding, result: 'met', missing: [] }, evidence.measures);

/** @param brief  without what its source asks for: something more urgent stands above it */
export function findingItem(finding: Finding, context: Context, brief = false): HTMLElement {
  const { criterion, result } = finding;
  const shown = shownAs(finding);
  return make(
    'li',
    `finding ${shown}`,
    make(
      'p',
      'said',
      resultMark(shown, resultWord(finding)),
      ' ',
      afterMark(explain(finding, context.evidence.measures)),
    ),
    make('p', 'small', ...sourcesOf([finding], context), ...(brief ? [] : actionOf(criterion, result))),
  );
}

/** A word that has a capital inside it stays: pH. */
export const capital = (words: string): string =>
  /^[a-z][A-Z]/.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1);

const actionOf = ({ action, urgency }: Criterion, result: Finding['result']): Child[] =>
  result === 'met' && urgency !== 'routine' && action !== '' ? [` ${withoutSource(action)}`] : [];

/** The source stands right before it. */
export const withoutSource = (action: string): string => {
  const words = action.replace(/^(?:Common practice|The source): /, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
};
