import type { Decisions } from '../../../calculators/criteria/decision.ts';
import type { Evidence, Finding } from '../../../calculators/criteria/evaluate.ts';
import { explain, supportWords } from '../../../calculators/criteria/explain.ts';
import { alarms, byDecision, type Shelf, wouldSettle } from '../../../calculators/criteria/group.ts';
import type { Truth } from '../../../calculators/criteria/logic.ts';
import { comparison } from '../../../calculators/criteria/say.ts';
import { standingWords } from '../../../calculators/standing.ts';

interface Props {
  findings: readonly Finding[];
  evidence: Evidence;
  decisions: Decisions;
  sources: Record<string, string>;
  base: string;
}

const resultWords: Record<Truth, string> = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' };

const shelfTitles: Record<Exclude<Shelf, 'acted'>, string> = {
  background: 'Background: study figures, cautions, schedules',
  unchecked: 'Unchecked: read the source before relying on it',
  replaced: 'Replaced editions',
};

/** A shape and a word for each result, never colour alone: a full staff, an empty ring, a broken square. */
export function ResultMark({ result }: { result: Truth }) {
  return (
    <span class={`result-mark ${result}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {result === 'met' && <path d="M3 1.5h10v8L8 14.5 3 9.5z" fill="currentColor" />}
        {result === 'not-met' && <circle cx="8" cy="8" r="5.5" fill="none" stroke="currentColor" stroke-width="2" />}
        {result === 'cannot-tell' && (
          <rect
            x="2.5"
            y="2.5"
            width="11"
            height="11"
            fill="none"
            stroke="currentColor"
            stroke-width="2"
            stroke-dasharray="3.2 2.2"
          />
        )}
      </svg>
      {resultWords[result]}
    </span>
  );
}

function FindingItem({
  finding,
  evidence,
  sources,
  base,
}: { finding: Finding } & Omit<Props, 'findings' | 'decisions'>) {
  const { criterion, result } = finding;
  return (
    <li class={`finding ${result}`}>
      <p class="said">
        <ResultMark result={result} /> {explain(finding, evidence.measures)}
      </p>
      <p class="small">
        <a href={`${base}sources/${criterion.source}/#${criterion.id}`}>
          {sources[criterion.source] ?? criterion.source}
        </a>
        : {evidence.measures[criterion.measure]?.short} {comparison(criterion, evidence.measures[criterion.measure])}.{' '}
        {criterion.locator}. {standingWords[criterion.standing]}
        {criterion.checked && `, ${criterion.checked}`}.
      </p>
      {result === 'met' && (
        <p class="small">
          The source: {criterion.action}{' '}
          {finding.support && finding.support !== 'none' && <strong>{supportWords[finding.support]}</strong>}
        </p>
      )}
    </li>
  );
}

export function Alarms(props: Props) {
  const urgent = alarms(props.findings);
  if (urgent.length === 0) return null;
  return (
    <section class="alarm" aria-labelledby="alarms-title">
      <h3 id="alarms-title">Urgent marks met</h3>
      <ul class="findings">
        {urgent.map((finding) => (
          <FindingItem key={finding.criterion.id} finding={finding} {...props} />
        ))}
      </ul>
    </section>
  );
}

export function Findings(props: Props) {
  const { findings, evidence, decisions } = props;
  const next = wouldSettle(findings).slice(0, 8);
  return (
    <>
      {next.length > 0 && (
        <section>
          <h3>What would tell more</h3>
          <ol>
            {next.map(({ measure, count }) => (
              <li key={measure}>
                {evidence.measures[measure]?.label ?? `The person's ${measure}`}{' '}
                <span class="small">would help to settle {count}</span>
              </li>
            ))}
          </ol>
        </section>
      )}
      {byDecision(findings, decisions, evidence.decisionOf).map(({ decision, shelves }) => {
        const title = decisions[decision]?.title ?? decision;
        const count = (result: Truth) => shelves.acted.filter((finding) => finding.result === result).length;
        return (
          <section key={decision} class="decision">
            <h3>{title}</h3>
            {decisions[decision]?.coverage && (
              <p class="care">Payer rules: not clinical need, and never a statement that the person qualifies.</p>
            )}
            <p class="small">
              Met {count('met')}, cannot tell {count('cannot-tell')}, not met {count('not-met')}
            </p>
            <ul class="findings">
              {shelves.acted
                .filter((finding) => finding.result === 'met')
                .map((finding) => (
                  <FindingItem key={finding.criterion.id} finding={finding} {...props} />
                ))}
            </ul>
            {(['cannot-tell', 'not-met'] as const).map((result) => {
              const list = shelves.acted.filter((finding) => finding.result === result);
              return (
                list.length > 0 && (
                  <details key={result}>
                    <summary>
                      {resultWords[result]} ({list.length})
                    </summary>
                    <ul class="findings">
                      {list.map((finding) => (
                        <FindingItem key={finding.criterion.id} finding={finding} {...props} />
                      ))}
                    </ul>
                  </details>
                )
              );
            })}
            {(['background', 'unchecked', 'replaced'] as const).map(
              (shelf) =>
                shelves[shelf].length > 0 && (
                  <details key={shelf} class={shelf === 'unchecked' ? 'unread' : ''}>
                    <summary>
                      {shelfTitles[shelf]} ({shelves[shelf].length})
                    </summary>
                    <ul class="findings">
                      {shelves[shelf].map((finding) => (
                        <FindingItem key={finding.criterion.id} finding={finding} {...props} />
                      ))}
                    </ul>
                  </details>
                ),
            )}
          </section>
        );
      })}
    </>
  );
}
