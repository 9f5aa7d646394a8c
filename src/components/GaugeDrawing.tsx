/** The drawing of a gauge: printed by Gauge.astro, and drawn on the screen where a team sets its criteria. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import { figure } from '../../calculators/evaluate/say.ts';
import { units } from '../../calculators/quantity.ts';
import {
  frame,
  type GaugeLayout,
  gaugeRows,
  labelX,
  layOut,
  lineHeight,
  notchesOf,
  staff,
  tenth,
  type Unchecked,
} from './gauge-layout.ts';

/** @returns nothing where no criterion of the measure has a number */
export const gaugeOf = (
  criteria: readonly Criterion[],
  id: string,
  measure: NumberMeasure,
  nameOf: (source: string) => string,
): GaugeLayout | undefined => layOut(gaugeRows(criteria, id, measure, nameOf), measure);

interface Props {
  id: string;
  measure: NumberMeasure;
  layout: GaugeLayout;
  disease?: string | undefined;
  /** the clinic's own thresholds, in the measure's own unit */
  notches?: readonly { value: number; words: string }[];
}

export function GaugeDrawing({ id, measure, layout, disease, notches = [] }: Props) {
  const spoken = layout.ticks
    .map(({ head, lines }) => `${head.join(' ')}: ${lines.join(' ')}`.replace(/\*/g, ' with other findings'))
    .join('. ');
  const letters = layout.unchecked.map(({ letterY }) => letterY);
  return (
    <svg
      class="gauge"
      viewBox={`0 0 ${frame} ${layout.height}`}
      width={frame}
      height={layout.height}
      role="img"
      aria-label={`${measure.label}: published thresholds on a scale from ${figure(layout.low)} to ${figure(layout.high)} ${units[measure.unit].symbol}. ${spoken}`}
      data-gauge={id}
      data-disease={disease}
      data-low={layout.low}
      data-high={layout.high}
      data-top={layout.top}
      data-bottom={layout.bottom}
      data-unit={measure.unit}
      data-letters={letters.length > 0 ? letters.join(' ') : undefined}
    >
      <path d={`M${staff} ${layout.top - 6}V${layout.bottom + 6}`} class="staff" />
      {/* Under the numbers of the scale, which stay legible across it. */}
      {layout.unchecked.map((one) => (
        <Letter key={one.letter} {...one} />
      ))}
      {layout.steps.map(({ value, y }) => (
        <g key={value}>
          <path d={`M${staff - 6} ${y}H${staff}`} class="step" />
          <text x={staff - 15} y={tenth(y + 4.5)} text-anchor="end" class="scale">
            {figure(value)}
          </text>
        </g>
      ))}
      {/* Under the published thresholds, which it must never cover. */}
      <g data-notch>
        {notchesOf(notches, layout, letters).map(({ cut, edge, label }) => (
          <g key={edge}>
            <path d={cut} class="notch-cut" />
            <path d={edge} class="notch" />
            {label.map(({ x, y, words }) => (
              <text key={words} x={x} y={y} class="notch-word">
                {words}
              </text>
            ))}
          </g>
        ))}
      </g>
      {layout.ticks.map((tick) => (
        <g key={tick.labelY}>
          <path
            d={`M${staff} ${tick.y}H${staff + 14}L${staff + 23} ${tenth(tick.labelY + lineHeight / 2)}H${staff + 27}${arrow(staff + 11, tick)}`}
            class="tick"
          />
          <circle cx={staff} cy={tick.y} r="4.5" class={tick.closed ? 'closed' : 'open'} />
          {[...tick.head, ...tick.lines].map((line, at) => (
            <text
              key={line}
              x={labelX}
              y={tenth(tick.labelY + 13 + at * lineHeight)}
              class={at < tick.head.length ? 'value' : 'who'}
            >
              {line}
            </text>
          ))}
        </g>
      ))}
      <g data-pointer />
    </svg>
  );
}

const arrow = (x: number, { y, side }: { y: number; side: 'below' | 'above' }): string =>
  side === 'below' ? `M${x} ${y}v10m-3.5 -3.5l3.5 3.5l3.5 -3.5` : `M${x} ${y}v-10m-3.5 3.5l3.5 -3.5l3.5 3.5`;

/** A number not yet checked: a letter, a dashed line and a diamond, on the side where no published threshold is. */
function Letter({ letter, letterY, y, side }: Unchecked) {
  return (
    <g>
      <text x="2" y={tenth(letterY + 4.5)} class="letter">
        {letter}
      </text>
      <path d={`M14 ${letterY}L26 ${y}H${staff - 12}`} class="unchecked" />
      <path d={`M${staff - 12} ${y}l5-5 5 5-5 5z${arrow(24, { y, side })}`} class="diamond" />
    </g>
  );
}
