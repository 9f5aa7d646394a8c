import { useEffect, useState } from 'preact/hooks';
import type { Criterion } from '../../../calculators/criteria/criterion.ts';
import { shelfOf } from '../../../calculators/criteria/group.ts';
import type { NumberMeasure } from '../../../calculators/criteria/measure.ts';
import type { Person } from '../../../calculators/criteria/person.ts';
import { comparison, figure, withUnit } from '../../../calculators/criteria/say.ts';
import { scopeOf } from '../../../calculators/criteria/scope.ts';
import type { KeptVisit } from '../../../calculators/criteria/series.ts';
import type { Trend } from '../../../calculators/criteria/since.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';

interface Props {
  person: Person;
  entries: Entries;
  earlier: readonly KeptVisit[];
  data: EvidenceData;
}

/** What changed since earlier visits: change against repeatability, rate a month, and the earliest day a mark could be reached. */
export function SinceLast({ person, entries, earlier, data }: Props) {
  const [trends, setTrends] = useState<Trend[]>([]);
  useEffect(() => {
    if (earlier.length === 0) return setTrends([]);
    let current = true;
    void Promise.all([import('./series-file.ts'), import('../../../calculators/criteria/since.ts')]).then(
      ([file, { since }]) => {
        const kept = file.seriesOf(person, earlier, file.keepVisit(person, entries)).visits;
        const marks = data.criteria.filter(
          (row) => shelfOf(row) === 'acted' && scopeOf(row, person, data.measures[row.measure]) === 'in',
        );
        if (current) setTrends(since(file.pastVisits(person, kept, data.measures), data.measures, marks));
      },
    );
    return () => {
      current = false;
    };
  }, [person, entries, earlier, data]);
  if (earlier.length === 0) return null;
  const plan = earlier.at(-1)?.plan.filter((item) => item.state !== 'in use') ?? [];
  return (
    <section aria-labelledby="since-title">
      <h2 id="since-title">Since the last visit</h2>
      {plan.length > 0 && (
        <>
          <h3>Did it happen?</h3>
          <ul>
            {plan.map((item) => (
              <li key={item.what}>
                {item.what}{' '}
                <span class="small">
                  {[item.owner, item.due && `by ${item.due}`, item.state].filter(Boolean).join(', ')}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {trends.length === 0 && <p>No measure was read at two visits or more.</p>}
      {trends.map((trend) => (
        <TrendView key={trend.measure} trend={trend} data={data} />
      ))}
      <p class="small">
        A line through few readings misleads: decline is often not even. Plan by the earliest day, and measure again
        before it.
      </p>
    </section>
  );
}

function TrendView({ trend, data }: { trend: Trend; data: EvidenceData }) {
  const measure = data.measures[trend.measure] as NumberMeasure;
  const told = (value: number) => withUnit(figure(Number(value.toFixed(measure.decimals + 1))), measure.unit);
  const { change, perMonth } = trend;
  const markOf = (id: string): Criterion | undefined => data.criteria.find((row) => row.id === id);
  return (
    <div class="trend">
      <h3>{measure.label}</h3>
      <TrendChart trend={trend} measure={measure} />
      <table>
        <caption class="hidden">{measure.label}, by date</caption>
        <tbody>
          {trend.points.map((point) => (
            <tr key={point.date}>
              <th scope="row">{point.date}</th>
              <td>
                {told(point.value)}
                {!point.counts && ' (taken another way)'}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {change && (
        <p>
          Change {told(change.value)} in {change.days} days.{' '}
          {change.repeatability.known
            ? change.repeatability.beyond
              ? 'More than two tests usually differ by chance.'
              : 'No more than two tests can differ by chance.'
            : 'How far two tests differ by chance was not found for this measure.'}
        </p>
      )}
      {perMonth && (
        <p>
          {told(perMonth.value)} a month
          {perMonth.low !== undefined &&
            perMonth.high !== undefined &&
            ` (${told(perMonth.low)} to ${told(perMonth.high)})`}
          , from {perMonth.readings} readings.
        </p>
      )}
      {trend.notes.map((note) => (
        <p key={note} class="small">
          {note}
        </p>
      ))}
      {trend.crossings
        .filter((crossing) => crossing.state === 'dated')
        .map((crossing) => {
          const mark = markOf(crossing.criterion);
          return (
            crossing.state === 'dated' && (
              <p key={crossing.criterion}>
                <b>
                  Could be {mark ? comparison(mark, measure) : crossing.mark} from {crossing.earliest}
                </b>{' '}
                <span class="small">
                  ({mark ? data.sources[mark.source] : ''}; the line itself reaches it on {crossing.line}).
                </span>
              </p>
            )
          );
        })}
    </div>
  );
}

/** A small picture of the readings over time; the table beside it is the same data. */
function TrendChart({ trend, measure }: { trend: Trend; measure: NumberMeasure }) {
  const days = trend.points.map((point) => Date.parse(`${point.date}T00:00:00Z`) / 86_400_000);
  const values = trend.points.map((point) => point.value);
  const [first = 0, last = 1] = [Math.min(...days), Math.max(...days)];
  const [low, high] = [Math.min(0, ...values), Math.max(...values, 1) * 1.1];
  const x = (day: number) => 10 + ((day - first) / Math.max(1, last - first)) * 280;
  const y = (value: number) => 90 - ((value - low) / (high - low)) * 80;
  return (
    <svg
      class="figure"
      viewBox="0 0 300 100"
      width="300"
      height="100"
      role="img"
      aria-label={`${measure.label} at ${trend.points.length} visits: the table has the figures`}
    >
      <path d="M10 90H290" stroke="var(--edge)" />
      <path
        d={trend.points.map((point, at) => `${at === 0 ? 'M' : 'L'}${x(days[at] ?? 0)} ${y(point.value)}`).join('')}
        fill="none"
        stroke="var(--accent)"
        stroke-width="2"
      />
      {trend.points.map((point, at) => (
        <circle
          key={point.date}
          cx={x(days[at] ?? 0)}
          cy={y(point.value)}
          r="4"
          fill={point.counts ? 'var(--accent)' : 'var(--card)'}
          stroke="var(--accent)"
          stroke-width="2"
        />
      ))}
    </svg>
  );
}
