import { standingLine } from '../../../calculators/agreement/agreement-words.ts';
import type { Decisions } from '../../../calculators/domain/decision.ts';
import type { LocalRow } from '../../../calculators/domain/local-row.ts';
import type { Evidence, Finding } from '../../../calculators/evaluate/evaluate.ts';
import { explain, withoutItems } from '../../../calculators/evaluate/explain.ts';
import { needsAttention } from '../../../calculators/evaluate/group.ts';
import { ruleWords, type Statement, statements } from '../../../calculators/evaluate/statements.ts';
import { standingWords } from '../../../calculators/standing.ts';
import { afterMark, resultWord, shownAs } from '../../components/result-shapes.ts';
import { ResultMark } from './ResultMark.tsx';

export interface FindingsProps {
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sources: Record<string, string>;
  base: string;
}

interface ListProps extends Omit<FindingsProps, 'findings'> {
  some: readonly Finding[];
  /** what the sources say to do stands under each line, not a tap away */
  actions?: boolean;
}

/** One line for each sentence, with its sources as links; what each source says is one tap away. */
export function StatementList({ some, ...props }: ListProps) {
  const said = statements(
    some,
    props.evidence,
    // One line whatever each source is for: its decision's heading says that.
    {},
    (finding, { measures }) => `${shownAs(finding)} ${resultWord(finding)} ${explain(finding, measures)}`,
  );
  // What makes up a list of signs is named at its first place: further down it would be all that is read.
  const named = new Set<string>();
  const isNamed = ({ parts }: Finding): boolean => {
    const lists = parts.flatMap(({ measure, items = [] }) => (items.length > 0 ? [measure] : []));
    const known = lists.length > 0 && lists.every((list) => named.has(list));
    for (const list of lists) named.add(list);
    return known;
  };
  return (
    <ul class="findings">
      {said.map((statement) => (
        <StatementItem
          key={`${statement.purpose} ${statement.rule}`}
          statement={statement}
          short={statement.findings[0] !== undefined && isNamed(statement.findings[0])}
          {...props}
        />
      ))}
    </ul>
  );
}

type ItemProps = { statement: Statement; short: boolean } & Omit<ListProps, 'some' | 'decisions'>;

function StatementItem({ statement: { findings }, short, actions, evidence, sources, base }: ItemProps) {
  const [first] = findings;
  if (!first) return null;
  const shown = shownAs(first);
  const toDo = new Set(
    findings.flatMap(({ criterion: { use, action } }) =>
      shown === 'met' && (actions || use === 'caution') ? [plain(action)] : [],
    ),
  );
  return (
    <li class={`finding ${shown}`}>
      <p class="said">
        <ResultMark result={shown} word={resultWord(first)} />{' '}
        {afterMark(explain(short ? withoutItems(first) : first, evidence.measures))}
      </p>
      {[...toDo].map((words) => (
        <p key={words} class="small">
          {words}
        </p>
      ))}
      <div class="sources">
        {findings.map(({ criterion }) => (
          <a
            key={criterion.id}
            class="source"
            href={criterion.local ? `${base}agree/` : `${base}sources/${criterion.source}/#${criterion.id}`}
          >
            {criterion.local ? standingLine(criterion) : (sources[criterion.source] ?? criterion.source)}
            {criterion.standing === 'from-memory' && !criterion.local && `, ${standingWords['from-memory']}`}
          </a>
        ))}
        <details class="each">
          <summary>{findings.length === 1 ? 'What it says' : 'What each says'}</summary>
          <ul>
            {findings.map((finding) => (
              <SourceSays key={finding.criterion.id} finding={finding} evidence={evidence} sources={sources} />
            ))}
          </ul>
        </details>
      </div>
    </li>
  );
}

const plain = (action: string): string => {
  const words = action.replace(/^(Common practice|The source): /, '');
  return words.charAt(0).toUpperCase() + words.slice(1);
};
const reasonOf = ({ reason }: LocalRow): string => (reason ? `The clinic\u2019s reason: ${reason}` : '');

interface SourceProps {
  finding: Finding;
  evidence: Evidence;
  sources: Record<string, string>;
}

/** The rule as it is written, where it is written, how it was checked, and what the source says to do. */
function SourceSays({ finding, evidence, sources }: SourceProps) {
  const { criterion } = finding;
  const rule = ruleWords(criterion, evidence);
  return (
    <li>
      {criterion.local ? standingLine(criterion) : (sources[criterion.source] ?? criterion.source)}: {rule}.
      {!criterion.local &&
        criterion.source !== 'trade-practice' &&
        ` ${criterion.locator}; ${standingLine(criterion)}.`}{' '}
      {needsAttention(finding) && (
        <>
          {criterion.local ? reasonOf(criterion.local) : criterion.action.replace(/^Common practice: /, '')}{' '}
          {!criterion.local && `${criterion.context}.`}
        </>
      )}
    </li>
  );
}
