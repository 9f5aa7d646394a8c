import type { RawEntry, RawInputs } from '../../../calculators/calculator.ts';
import { convert, daysInMonth, show, showNumber, type UnitCode } from '../../../calculators/quantity.ts';
import type { DeclineTest } from '../../../calculators/trend/decline-line.ts';
import { type DeclinePicture, pictureOf } from '../../../calculators/trend/decline-picture.ts';
import css from '../../styles/decline.css?inline';
import type { BesideProps } from './beside.ts';
import { wear } from './wear.ts';

wear(css);

const left = 46;
const right = 348;
const top = 14;
const bottom = 196;

/** The readings with their line, drawn. Everything in the picture is also in the results and tables, in words. */
export default function DeclineChart({ calculator, inputs, answer }: BesideProps) {
  // An answer stands beside the chart, so the test was chosen.
  const picture = pictureOf(inputs.test as DeclineTest, readingsOf(inputs), thresholdOf(inputs), {
    earliest: answer.results.earliest?.value,
    crossing: answer.results.crossing?.value,
  });
  if (!picture) return null;
  const { test } = calculator.fields;
  const chosen = test?.kind === 'choice' ? test.options.find(({ value }) => value === inputs.test) : undefined;
  return (
    <figure class="decline">
      <Drawing picture={picture} unit={chosen?.unit ?? '{reading}'} label={chosen?.label ?? ''} />
      <figcaption class="small">
        {chosen?.label}, by months from the first reading. The dots are readings. Line:{' '}
        {picture.path[0]?.low === undefined
          ? `${picture.readings.length === 2 ? 'through two readings only, so uncertain, and' : 'least squares,'} without an interval.`
          : 'least squares. Shaded: where one more reading would fall (95 %), if the line continues.'}
        {picture.threshold !== undefined && ' The dashed line is the threshold.'}
        {picture.earliest !== undefined && ' For planning, use the first vertical line, which is the earliest day.'}
      </figcaption>
      <table>
        <caption>The readings in the picture</caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">Reading</th>
          </tr>
        </thead>
        <tbody>
          {picture.readings.map(({ day, value }) => (
            <tr key={day}>
              <th scope="row">{showNumber(day, 0)}</th>
              <td>{show(value, chosen?.unit ?? '{reading}', decimalsOf(value))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </figure>
  );
}

function Drawing({ picture, unit, label }: { picture: DeclinePicture; unit: UnitCode; label: string }) {
  const { readings, path, threshold, earliest, crossing, days, values } = picture;
  const step = stepFor(values[1] - values[0]);
  const low = Math.floor(values[0] / step) * step;
  const high = Math.max(low + step, Math.ceil(values[1] / step) * step);
  const x = (day: number) => place(left, right, (day - days[0]) / (days[1] - days[0]));
  const y = (value: number) => place(bottom, top, (value - low) / (high - low));
  const points = (list: readonly (readonly [number, number])[]) => list.map(([a, b]) => `${x(a)} ${y(b)}`).join('L');
  const ups = path.flatMap(({ day, high: up }) => (up === undefined ? [] : [[day, up] as const]));
  const downs = path.flatMap(({ day, low: down }) => (down === undefined ? [] : [[day, down] as const]));
  const monthStep = Math.max(1, Math.ceil((days[1] - days[0]) / daysInMonth / 6));
  const months = Array.from({ length: 7 }, (_, at) => at * monthStep).filter(
    (month) => month * daysInMonth <= days[1] - days[0],
  );
  const scale = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, at) => low + at * step);
  const upright = [
    ...(earliest === undefined ? [] : [{ day: earliest, word: 'earliest', rise: 12 }]),
    ...(crossing === undefined ? [] : [{ day: crossing, word: 'line', rise: 26 }]),
  ];
  return (
    <svg viewBox="0 0 360 232" width="360" height="232" role="img" aria-label={inWords(picture, unit, label)}>
      {scale.map((value) => (
        <g key={value}>
          <path d={`M${left} ${y(value)}H${right}`} class="grid" />
          <text x={left - 6} y={y(value) + 4} text-anchor="end">
            {Number(value.toPrecision(4))}
          </text>
        </g>
      ))}
      {months.map((month) => (
        <text key={month} x={x(days[0] + month * daysInMonth)} y={bottom + 16} text-anchor="middle">
          {month}
        </text>
      ))}
      <text x={(left + right) / 2} y={bottom + 32} text-anchor="middle">
        months from the first reading
      </text>
      {ups.length > 0 && <path d={`M${points([...ups, ...downs.reverse()])}Z`} class="band" />}
      <path d={`M${points(path.map(({ day, value }) => [day, value]))}`} class="fit" />
      {threshold !== undefined && (
        <>
          <path d={`M${left} ${y(threshold)}H${right}`} class="mark" />
          <text x={left + 4} y={y(threshold) - 5} class="named">
            threshold {show(threshold, unit, decimalsOf(threshold))}
          </text>
        </>
      )}
      {upright.map(({ day, word, rise }) => (
        <g key={word}>
          <path d={`M${x(day)} ${y(threshold ?? low)}V${bottom}`} class="day" />
          <text x={Math.min(x(day) - 4, right)} y={bottom - rise + 6} text-anchor="end" class="named">
            {word}
          </text>
        </g>
      ))}
      {readings.map(({ day, value }) => (
        <circle key={day} cx={x(day)} cy={y(value)} r="4.5" class="dot" />
      ))}
    </svg>
  );
}

function inWords(
  { readings, path, threshold, earliest, crossing, lastDay }: DeclinePicture,
  unit: UnitCode,
  label: string,
) {
  const [first, last] = [readings[0], readings.at(-1)];
  const end = path.at(-1);
  const days = (day: number) => `${Math.round(day - lastDay)} days after the last reading`;
  return [
    `${label}: ${readings.length} readings, from ${show(first?.value ?? 0, unit, decimalsOf(first?.value ?? 0))} to ${show(last?.value ?? 0, unit, decimalsOf(last?.value ?? 0))}`,
    ...(end?.low === undefined ? ['A line without an interval'] : []),
    ...(threshold === undefined ? [] : [`Threshold at ${show(threshold, unit, decimalsOf(threshold))}`]),
    ...(earliest === undefined ? [] : [`Earliest at the threshold: ${days(earliest)}`]),
    ...(crossing === undefined ? [] : [`The line itself at the threshold: ${days(crossing)}`]),
  ].join('. ');
}

const place = (from: number, to: number, share: number): number => Math.round((from + (to - from) * share) * 10) / 10;
const decimalsOf = (value: number): number => Math.min(2, String(value).split('.')[1]?.length ?? 0);

/** 1, 2 or 5 times a power of ten, so that a scale has three to seven steps. */
function stepFor(span: number): number {
  const rough = Math.max(span, 0.1) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((times) => times * power >= rough) ?? 10) * power;
}

const inUnit = (entry: RawEntry, unit: UnitCode): number =>
  typeof entry === 'object' && entry !== null ? convert(entry.value, entry.unit as UnitCode, unit) : Number(entry);
const isFilled = (entry: RawEntry): boolean => entry !== undefined && entry !== null && entry !== '';

/** Pressures are taken without their sign, as in the calculation. */
function readingsOf({ readings }: RawInputs) {
  const rows = Array.isArray(readings) ? (readings as readonly Readonly<Record<string, RawEntry>>[]) : [];
  return rows
    .filter((row) => isFilled(row.time) && isFilled(row.value))
    .map((row) => ({ day: inUnit(row.time, 'd'), value: Math.abs(inUnit(row.value, '{reading}')) }));
}
function thresholdOf({ threshold }: RawInputs): number | undefined {
  return Array.isArray(threshold) || !isFilled(threshold as RawEntry)
    ? undefined
    : Math.abs(inUnit(threshold as RawEntry, '{reading}'));
}
