import { dayCount } from '../../../calculators/calendar.ts';
import type { Criterion } from '../../../calculators/domain/criterion.ts';
import type { NumberMeasure } from '../../../calculators/domain/measure.ts';
import type { Trend } from '../../../calculators/visit/since.ts';
import { sayDate } from '../../browser/say-date.ts';
import type { Entries } from './entries.ts';
import type { EvidenceData } from './evidence-data.ts';

type Words = typeof import('./compare.ts');

interface Props {
  trends: readonly Trend[];
  entries: Entries;
  data: EvidenceData;
  marks: readonly Criterion[];
  /** how changes are said: loaded with the first earlier visit */
  words: Words;
  onChange: (next: Partial<Entries>) => void;
}

/** What changed since earlier visits: change against repeatability, rate a month, and the earliest day a threshold could be reached. */
export function SinceLast({ trends, entries, data, marks, words, onChange }: Props) {
  const weeks = leadWeeks(entries);
  const once = words.eachOnce(trends);
  const of = (kind: ReturnType<Words['kindOfChange']>) => once.filter((trend) => words.kindOfChange(trend) === kind);
  return (
    <section aria-labelledby="since-title">
      <h2 id="since-title">Since the last visit</h2>
      {trends.length === 0 && <p>No measure has readings from two visits.</p>}
      {trends.length > 0 && (
        <div class="field">
          <label for="visit-lead">Weeks to put a support in place here</label>
          <div class="entry">
            <input
              id="visit-lead"
              type="text"
              inputMode="decimal"
              autocomplete="off"
              value={entries.leadWeeks}
              onInput={(event) => onChange({ leadWeeks: event.currentTarget.value })}
            />
            <span class="unit">weeks</span>
          </div>
          <p class="small">
            Enter the time from order to first night where you work. This time is counted back from each date in the
            list.
          </p>
        </div>
      )}
      {of('beyond').map((trend) => (
        <TrendView
          key={trend.measure}
          trend={trend}
          measure={data.measures[trend.measure] as NumberMeasure}
          weeks={weeks}
          {...{ entries, data, marks, words }}
        />
      ))}
      <OtherChanges
        title="Changed; how far two such tests differ by chance is not known"
        trends={of('not-known')}
        {...{ weeks, entries, data, marks, words }}
      />
      <OtherChanges
        title="Changed by no more than two tests can differ by chance"
        trends={of('within')}
        {...{ weeks, entries, data, marks, words }}
      />
      <OtherChanges
        title="The same reading as last time"
        trends={of('same')}
        {...{ weeks, entries, data, marks, words }}
      />
      <p class="small">
        A line through few readings can mislead, because decline is often uneven. Planning for the earliest day leaves
        the most time to arrange things, and a new reading tells you more than any line. If no date is shown, that does
        not mean it is safe to wait.
      </p>
    </section>
  );
}

/** @returns undefined where nothing that can be a wait was typed */
export function leadWeeks({ leadWeeks: typed }: Entries): number | undefined {
  const weeks = Number(typed.trim().replace(',', '.'));
  return typed.trim() !== '' && weeks > 0 && weeks <= 104 ? weeks : undefined;
}

interface TrendProps extends Omit<Props, 'trends' | 'onChange'> {
  trend: Trend;
  measure: NumberMeasure;
  weeks: number | undefined;
}

/** A change beyond chance: one sentence, the nearest day to plan by, a chart; the rest is a fold away. */
function TrendView({ trend, measure, weeks, entries, data, marks, words }: TrendProps) {
  return (
    <div class="trend" data-trend={trend.measure}>
      <h3>{measure.label}</h3>
      <p>
        <b>{words.changeSentence(trend, measure, sayDate)}.</b>
      </p>
      <TrendChart trend={trend} measure={measure} />
      {words.ahead(trend, marks, data.measures, weeks).map((one) => {
        const lead = weeks === undefined ? undefined : words.leadWords(one, weeks, entries.date, sayDate);
        return (
          <p key={one.words + one.earliest} class="ahead">
            <b>{words.aheadWords(one, sayDate)}.</b> {lead && `${lead.charAt(0).toUpperCase()}${lead.slice(1)}. `}
            <span class="small">{words.markSources(one, (id) => data.sources[id] ?? id)}.</span>
          </p>
        );
      })}
      <TrendNotes trend={trend} />
      <TrendDetails {...{ trend, measure, data, marks, words }} />
    </div>
  );
}

/** What makes a change weak stands beside it, and not in a fold. */
const TrendNotes = ({ trend: { notes } }: { trend: Trend }) => (
  <>
    {notes.map((note) => (
      <p key={note} class="small">
        {note}.
      </p>
    ))}
  </>
);

/** Several changes that show nothing by themselves, a sentence each. What was taken another way is among them. */
function OtherChanges({
  title,
  trends,
  ...props
}: { title: string; trends: readonly Trend[] } & Omit<TrendProps, 'trend' | 'measure'>) {
  const { data, marks, words } = props;
  if (trends.length === 0) return null;
  return (
    <>
      <h3>{title}</h3>
      {trends.map((trend) => {
        const measure = data.measures[trend.measure] as NumberMeasure;
        return (
          <div key={trend.measure} class="trend" data-trend={trend.measure}>
            <p>{words.changeSentence(trend, measure, sayDate) ?? `${measure.label}: nothing to compare it with`}.</p>
            <TrendNotes trend={trend} />
            <TrendDetails {...{ trend, measure, data, marks, words }} />
          </div>
        );
      })}
    </>
  );
}

/** Rate, interval, what chance makes and from where, why there is no date, and the readings themselves. */
function TrendDetails({ trend, measure, data, marks, words }: Omit<TrendProps, 'weeks' | 'entries'>) {
  const rate = words.rateWords(trend, measure);
  const width = words.widthWords(trend, measure);
  const { repeatability } = trend.change ?? {};
  return (
    <details>
      <summary>Readings, rate and what the rate is based on: {measure.short}</summary>
      {rate && <p>{rate}.</p>}
      {width && <p class="small">{width}.</p>}
      {repeatability && (
        <p class="small">
          {repeatability.known
            ? `Found in ${repeatability.found}: ${repeatability.source}.`
            : `${repeatability.words}.`}
        </p>
      )}
      {words.undatedWords(trend, marks, data.measures).map((why) => (
        <p key={why} class="undated">
          {why}.
        </p>
      ))}
      <table>
        <caption class="hidden">{measure.label}, by date</caption>
        <tbody>
          {trend.points.map((point) => (
            <tr key={point.date}>
              <th scope="row">
                <time>{sayDate(point.date)}</time>
              </th>
              <td>
                {words.told(point.value, measure)}
                {!point.counts && ' (taken differently)'}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

/** A small picture of the readings over time; the table beside it is the same data. */
function TrendChart({ trend, measure }: { trend: Trend; measure: NumberMeasure }) {
  const days = trend.points.map((point) => dayCount(point.date));
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
      aria-label={`${measure.label} at ${trend.points.length} visits: the list below has the figures`}
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
