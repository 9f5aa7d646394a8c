/** The drawing of a gauge: printed by Gauge.astro, and drawn on the screen where a team sets its criteria. */
import type { Criterion } from '../../calculators/domain/criterion.ts';
import type { NumberMeasure } from '../../calculators/domain/measure.ts';
import { comparison, figure } from '../../calculators/evaluate/say.ts';
import { units } from '../../calculators/quantity.ts';
import { type GaugeLayout, gaugeRows, layOut, notchesOf, staff, tenth } from './gauge-layout.ts';

/** @returns nothing where no criterion of the measure has a number */
export const gaugeOf = (
  criteria: readonly Criterion[],
  id: string,
  measure: NumberMeasure,
  nameOf: (source: string) => string,
): GaugeLayout | undefined =>
  layOut(gaugeRows(criteria, id, measure, nameOf), measure, (value, comparator) =>
    comparison({ comparator: comparator as '<', value: Number(value.toPrecision(6)), unit: measure.unit }, undefined),
  );

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
    .map(({ lines: [threshold, ...who] }) => `${threshold}: ${who.join(' ').replace(/\*/g, ' with other findings')}`)
    .join('. ');
  const arrow = (x: number, y: number, side: 'below' | 'above') =>
    side === 'below' ? `M${x} ${y}v11m-4 -4l4 4l4 -4` : `M${x} ${y}v-11m-4 4l4 -4l4 4`;
  return (
    <svg
      class="gauge"
      viewBox={`0 0 380 ${layout.height}`}
      width="380"
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
    >
      <path d={`M${staff} ${layout.top - 6}V${layout.bottom + 6}`} class="staff" />
      {/* Under the numbers of the scale, which stay legible across it. */}
      {layout.unchecked.map(({ y, side }) => (
        <path
          key={`${y}${side}`}
          d={
            side === 'below'
              ? `M${staff - 66} ${y}H${staff - 8}M${staff - 58} ${y}v9m-3 -3l3 3l3 -3`
              : `M${staff - 66} ${y}H${staff - 8}M${staff - 58} ${y}v-9m-3 3l3 -3l3 3`
          }
          class="unchecked"
        />
      ))}
      {layout.steps.map(({ value, y }) => (
        <g key={value}>
          <path d={`M${staff - 6} ${y}H${staff}`} class="step" />
          <text x={staff - 12} y={tenth(y + 4.5)} text-anchor="end" class="scale">
            {figure(value)}
          </text>
        </g>
      ))}
      {/* Under the published thresholds, which it must never cover. */}
      <g data-notch>
        {notchesOf(notches, layout).map(({ cut, edge, label }) => (
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
            d={`M${staff} ${tick.y}H${staff + 22}L${staff + 36} ${tenth(tick.labelY + 9)}H${staff + 40}`}
            class="tick"
          />
          <path d={arrow(staff + 12, tick.y, tick.side)} class="tick" />
          <circle cx={staff} cy={tick.y} r="4.5" class={tick.closed ? 'closed' : 'open'} />
          {tick.lines.map((line, at) => (
            <text key={line} x={staff + 44} y={tenth(tick.labelY + 13 + at * 17)} class={at === 0 ? 'value' : 'who'}>
              {line}
            </text>
          ))}
        </g>
      ))}
      <g data-pointer />
    </svg>
  );
}
