import type { Bar, Look, Plot, Point } from './figure.ts';

const frame = { width: 340, height: 232, left: 40, right: 16, top: 12, bottom: 42 };
const inner = { right: frame.width - frame.right, bottom: frame.height - frame.bottom };

const whole = (value: number): string => String(Math.round(value * 1000) / 1000).replace('-', '\u2212');

/** A line plot on axes that start where they say. Decorative for a screen reader: the table beside it says the same. */
export function PlotDrawing({ plot, id }: { plot: Plot; id: string }) {
  const { x, y } = plot;
  const across = (value: number) => frame.left + ((value - x.low) / (x.high - x.low)) * (inner.right - frame.left);
  const up = (value: number) => inner.bottom - ((value - y.low) / (y.high - y.low)) * (inner.bottom - frame.top);
  const at = ([first, second]: Point) => `${across(first).toFixed(1)} ${up(second).toFixed(1)}`;
  const path = (points: readonly (Point | null)[]) =>
    points.map((point, place) => (point === null ? '' : `${points[place - 1] ? 'L' : 'M'}${at(point)}`)).join('');
  return (
    <svg viewBox={`0 0 ${frame.width} ${frame.height}`} width={frame.width} height={frame.height} aria-hidden="true">
      <clipPath id={id}>
        <rect x={frame.left} y={frame.top - 2} width={inner.right - frame.left} height={inner.bottom - frame.top + 4} />
      </clipPath>
      {ticks(x.low, x.high, x.every).map((value) => (
        <g key={`x${value}`}>
          <path class="grid" d={`M${across(value)} ${frame.top}V${inner.bottom}`} />
          <text x={across(value)} y={inner.bottom + 16} text-anchor="middle">
            {whole(value)}
          </text>
        </g>
      ))}
      {ticks(y.low, y.high, y.every).map((value) => (
        <g key={`y${value}`}>
          <path class="grid" d={`M${frame.left} ${up(value)}H${inner.right}`} />
          <text x={frame.left - 6} y={up(value) + 4} text-anchor="end">
            {whole(value)}
          </text>
        </g>
      ))}
      <text class="axis" x={inner.right} y={frame.height - 6} text-anchor="end">
        {x.label}
      </text>
      <g clip-path={`url(#${id})`}>
        {plot.band && (
          <path
            class="band"
            d={`${path(plot.band.points.map(([day, , high]) => [day, high]))}${[...plot.band.points]
              .reverse()
              .map(([day, low]) => `L${at([day, low])}`)
              .join('')}Z`}
          />
        )}
        {plot.rules.map((rule) => (
          <path
            key={rule.name}
            class="rule"
            d={
              rule.across === 'y'
                ? `M${frame.left} ${up(rule.at)}H${inner.right}`
                : `M${across(rule.at)} ${frame.top}V${inner.bottom}`
            }
          />
        ))}
        {plot.lines.map((line) => (
          <path key={line.name} class={`line ${line.look}`} d={path(line.points)} />
        ))}
        {plot.dots.map((dot, place) => (
          <circle
            key={`${place}:${dot.look}`}
            class={dot.look}
            cx={across(dot.at[0]).toFixed(1)}
            cy={up(dot.at[1]).toFixed(1)}
            r={dot.look === 'hand' ? 5.5 : 3.2}
          />
        ))}
      </g>
    </svg>
  );
}

const ticks = (low: number, high: number, every: number): number[] =>
  Array.from({ length: Math.floor((high - low) / every + 1e-9) + 1 }, (_, at) => low + at * every);

/** The key: each way of drawing, with what it means beside it. */
export function Key({ plot }: { plot: Plot }) {
  return (
    <ul class="key">
      <li>
        <span class="small">Upwards: {plot.y.label}</span>
      </li>
      {plot.lines.map(({ name, look }) => (
        <li key={name}>
          <Piece look={look} /> {name}
        </li>
      ))}
      {plot.band && (
        <li>
          <svg viewBox="0 0 30 12" width="30" height="12" aria-hidden="true">
            <rect class="band" x="1" y="1" width="28" height="10" />
          </svg>{' '}
          {plot.band.name}
        </li>
      )}
      {plot.rules.map(({ name }) => (
        <li key={name}>
          <svg viewBox="0 0 30 12" width="30" height="12" aria-hidden="true">
            <path class="rule" d="M1 6H29" />
          </svg>{' '}
          {name}
        </li>
      ))}
    </ul>
  );
}

const Piece = ({ look }: { look: Look }) => (
  <svg viewBox="0 0 30 12" width="30" height="12" aria-hidden="true">
    <path class={`line ${look}`} d="M1 6H29" />
  </svg>
);

export function BarsDrawing({ bars }: { bars: readonly Bar[] }) {
  const longest = Math.max(...bars.map(({ value }) => value));
  const width = (value: number) => (value / longest) * 240;
  const height = bars.length * 42;
  return (
    <svg viewBox={`0 0 340 ${height}`} width="340" height={height} aria-hidden="true">
      {bars.map(({ name, value, words, chosen }, place) => (
        <g key={name} class={chosen ? 'bar chosen' : 'bar'}>
          <text x="2" y={place * 42 + 14}>
            {name}
          </text>
          <rect x="2" y={place * 42 + 20} width={width(value)} height="14" rx="2" />
          <text x={width(value) + 8} y={place * 42 + 32}>
            {words}
          </text>
        </g>
      ))}
    </svg>
  );
}
