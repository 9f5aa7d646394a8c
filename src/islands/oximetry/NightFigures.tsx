import { type Rule, type RuleName, rules } from '../../../calculators/night-oximetry/rules.ts';
import { showNumber } from '../../../calculators/quantity.ts';
import { standingWords } from '../../../calculators/standing.ts';
import type { Night } from '../../night-oximetry/messages.ts';
import { duration, momentWords, percent } from './words.ts';

/** Each figure with the rule that made it one tap away. */
export function NightFigures({ night }: { night: Night }) {
  const { summary } = night;
  const figures: [RuleName, string][] = [
    ['usable', `${duration(summary.usableSeconds)} of ${duration(summary.recordedSeconds)} recorded`],
    ['mean', percent(summary.meanSpo2)],
    ['lowest', percent(summary.lowestSpo2, Number.isInteger(summary.lowestSpo2) ? 0 : 1)],
    ['below90', `${duration(summary.below90Seconds)}, ${percent(summary.below90Percent)} of the usable time`],
    [
      'atOrBelow88',
      `${duration(summary.atOrBelow88Seconds)}, ${percent(summary.atOrBelow88Percent)} of the usable time`,
    ],
    ['longestAtOrBelow88', duration(summary.longestAtOrBelow88Seconds)],
    ['drops3', `${showNumber(summary.drops3PerHour, 1)} an hour (${summary.drops3} in all)`],
    ['drops4', `${showNumber(summary.drops4PerHour, 1)} an hour (${summary.drops4} in all)`],
  ];
  return (
    <dl class="night-figures">
      {figures.map(([name, value]) => (
        <div key={name}>
          <dt>{rules[name].title}</dt>
          <dd>
            <span class="value">{value}</span>
            <RuleOf rule={rules[name]} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

function RuleOf({ rule }: { rule: Rule }) {
  return (
    <details>
      <summary aria-label={`The rule for: ${rule.title}`}>The rule</summary>
      <p>{rule.rule}</p>
      <p class="small">
        {rule.source}. <span class="standing">{standingWords[rule.standing]}</span>
      </p>
    </details>
  );
}

export function LeftOut({ night }: { night: Night }) {
  const { noValueSeconds, outOfRangeSeconds, fastFallSeconds, gapSeconds } = night.summary.leftOut;
  const parts = [
    ['No value', noValueSeconds],
    ['Outside the range of a saturation', outOfRangeSeconds],
    ['A fall too fast to be real', fastFallSeconds],
    ['No rows at all', gapSeconds],
  ] as const;
  return (
    <ul>
      {parts.map(([what, seconds]) => (
        <li key={what}>
          {what}: {duration(seconds)}
        </li>
      ))}
    </ul>
  );
}

/** The same night as a table: what a picture says to the eye. */
export function HourTable({ night }: { night: Night }) {
  const { summary, startedAt } = night;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls sideways must be reachable by keyboard
    <section class="scroll" aria-label="The night by the hour" tabIndex={0}>
      <table>
        <caption>The night by the hour</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">Usable</th>
            <th scope="col">Mean</th>
            <th scope="col">Lowest</th>
            <th scope="col">Below 90</th>
            <th scope="col">At or below 88</th>
            <th scope="col">Drops of 3</th>
            <th scope="col">Drops of 4</th>
          </tr>
        </thead>
        <tbody>
          {summary.hours.map((hour) => (
            <tr key={hour.startSeconds}>
              <th scope="row">{momentWords(startedAt, hour.startSeconds)}</th>
              <td>{duration(hour.usableSeconds)}</td>
              <td>{hour.meanSpo2 === undefined ? 'none' : percent(hour.meanSpo2)}</td>
              <td>{hour.lowestSpo2 === undefined ? 'none' : percent(hour.lowestSpo2, 0)}</td>
              <td>{duration(hour.below90Seconds)}</td>
              <td>{duration(hour.atOrBelow88Seconds)}</td>
              <td>{hour.drops3}</td>
              <td>{hour.drops4}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
