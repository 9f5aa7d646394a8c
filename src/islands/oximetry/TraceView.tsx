import { useState } from 'preact/hooks';
import { limits } from '../../../calculators/night-oximetry/rules.ts';
import { showNumber } from '../../../calculators/quantity.ts';
import type { Night } from '../../night-oximetry/messages.ts';
import { momentWords, percent } from './words.ts';

const width = 720;
const left = 44;
const top = 8;
const plot = { height: 250, width: width - left - 8 };
const pulsePlot = { top: top + plot.height + 44, height: 70 };

/** The night as a picture: SpO2 from its lowest to its highest in each column, what was left out, and the pulse. */
export function TraceView({ night }: { night: Night }) {
  const { trace, summary } = night;
  const [at, setAt] = useState(0);
  const floor = Math.min(80, Math.floor(summary.lowestSpo2 / 5) * 5 - 5);
  const x = (column: number) => left + (column / trace.columns) * plot.width;
  const y = (value: number) => top + ((100 - value) / (100 - floor)) * plot.height;
  const pulses = trace.pulseHighest && [...trace.pulseHighest].filter((value) => !Number.isNaN(value));
  const fastest = Math.max(100, ...(pulses ?? []));
  const hasPulse = pulses !== undefined && pulses.length > 0;
  const height = hasPulse ? pulsePlot.top + pulsePlot.height + 24 : top + plot.height + 44;
  const levels = Array.from({ length: Math.floor((100 - floor) / 5) + 1 }, (_, step) => 100 - step * 5);
  const words = columnWords(night, at);
  return (
    <figure class="trace">
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label="SpO2 through the night. The figures by the hour are in the table below."
      >
        <defs>
          <pattern id="left-out" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="6" height="6" class="hatch-ground" />
            <line x1="0" y1="0" x2="0" y2="6" class="hatch" />
          </pattern>
        </defs>
        {levels.map((level) => (
          <g key={level}>
            <line x1={left} x2={left + plot.width} y1={y(level)} y2={y(level)} class="grid" />
            <text x={left - 6} y={y(level) + 4} text-anchor="end">
              {level}
            </text>
          </g>
        ))}
        <Hours night={night} x={x} />
        {[limits.below, limits.atOrBelow].map((level) => (
          <line
            key={level}
            x1={left}
            x2={left + plot.width}
            y1={y(level)}
            y2={y(level)}
            class={`level level-${level}`}
          />
        ))}
        <path d={bars(trace.lowest, trace.highest, x, y)} class="spo2" />
        {stretches(trace.leftOut).map(([from, to]) => (
          <rect
            key={from}
            x={x(from)}
            y={top + plot.height + 6}
            width={Math.max(1, x(to) - x(from))}
            height={12}
            fill="url(#left-out)"
            class="left-out"
          />
        ))}
        {hasPulse && <Pulse trace={trace} x={x} fastest={fastest} />}
        <line x1={x(at + 0.5)} x2={x(at + 0.5)} y1={top} y2={height - 20} class="cursor" />
      </svg>
      <figcaption class="small">
        SpO2 in per cent, lowest to highest in each column. Dashed line: {limits.below}; dotted line: {limits.atOrBelow}
        . The hatched strip under the trace is left out of every figure.
      </figcaption>
      <div class="field">
        <label for="trace-at">Look along the night</label>
        <input
          id="trace-at"
          type="range"
          min={0}
          max={trace.columns - 1}
          value={at}
          aria-valuetext={words}
          onInput={(event) => setAt(Number(event.currentTarget.value))}
        />
        <output for="trace-at">{words}</output>
      </div>
    </figure>
  );
}

/** A line at each hour, with its time. */
function Hours({ night: { trace, startedAt }, x }: { night: Night; x: (column: number) => number }) {
  const recorded = trace.columns * trace.secondsEach;
  const at = (hour: number) => x((hour * 3600) / trace.secondsEach);
  const hours = Array.from({ length: Math.floor(recorded / 3600) + 1 }, (_, hour) => hour);
  // Labels that would run into each other are left out; the lines stay.
  const labelEvery = Math.max(1, Math.ceil(hours.length / 9));
  return (
    <>
      {hours.map((hour) => (
        <g key={hour}>
          <line x1={at(hour)} x2={at(hour)} y1={top} y2={top + plot.height + 22} class="grid" />
          {hour % labelEvery === 0 && (
            <text x={at(hour)} y={top + plot.height + 38} text-anchor={hour === 0 ? 'start' : 'middle'}>
              {momentWords(startedAt, hour * 3600).slice(0, 5)}
            </text>
          )}
        </g>
      ))}
    </>
  );
}

interface PulseProps {
  trace: Night['trace'];
  x: (column: number) => number;
  /** the top of the scale */
  fastest: number;
}

function Pulse({ trace, x, fastest }: PulseProps) {
  if (!trace.pulseLowest || !trace.pulseHighest) return null;
  const pulseY = (value: number) => pulsePlot.top + (1 - (value - 30) / (fastest - 30)) * pulsePlot.height;
  return (
    <g>
      <text x={left - 6} y={pulsePlot.top + 8} text-anchor="end">
        {showNumber(fastest, 0)}
      </text>
      <text x={left - 6} y={pulsePlot.top + pulsePlot.height} text-anchor="end">
        30
      </text>
      <path d={bars(trace.pulseLowest, trace.pulseHighest, x, pulseY)} class="pulse" />
      <text x={left} y={pulsePlot.top + pulsePlot.height + 18}>
        Pulse a minute
      </text>
    </g>
  );
}

function columnWords({ trace, startedAt }: Night, at: number): string {
  const time = momentWords(startedAt, at * trace.secondsEach);
  const [low, high] = [trace.lowest[at] ?? Number.NaN, trace.highest[at] ?? Number.NaN];
  const out = trace.leftOut[at] ?? 0;
  if (Number.isNaN(low)) return `${time}: no usable value`;
  const level =
    low === high
      ? percent(low, low % 1 === 0 ? 0 : 1)
      : `${showNumber(low, low % 1 === 0 ? 0 : 1)} to ${percent(high, high % 1 === 0 ? 0 : 1)}`;
  return `${time}: SpO2 ${level}${out > 0 ? `, ${showNumber(out * 100, 0)}\u00a0% of it left out` : ''}`;
}

/** A bar in each column from its lowest to its highest, joined to the one before; a column without a value breaks the line. */
function bars(
  lowest: Float32Array,
  highest: Float32Array,
  x: (column: number) => number,
  y: (value: number) => number,
): string {
  const parts: string[] = [];
  let pen = false;
  for (let column = 0; column < lowest.length; column += 1) {
    const [low, high] = [lowest[column] ?? Number.NaN, highest[column] ?? Number.NaN];
    if (Number.isNaN(low)) {
      pen = false;
      continue;
    }
    const across = x(column + 0.5).toFixed(1);
    parts.push(
      `${pen ? 'L' : 'M'}${across} ${y(high).toFixed(1)}L${across} ${(y(low) + (low === high ? 0.5 : 0)).toFixed(1)}`,
    );
    pen = true;
  }
  return parts.join('');
}

/** Neighbouring columns of which at least a tenth was left out, as one stretch. */
function stretches(leftOut: Float32Array): [number, number][] {
  const found: [number, number][] = [];
  let start = -1;
  for (let column = 0; column <= leftOut.length; column += 1) {
    const out = column < leftOut.length && (leftOut[column] ?? 0) >= 0.1;
    if (out && start < 0) start = column;
    if (!out && start >= 0) {
      found.push([start, column]);
      start = -1;
    }
  }
  return found;
}
