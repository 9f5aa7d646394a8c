/**
 * Figures that move say what the calculators say. Each is put to many values, and every number of its table is asked again of
 * the calculator a reader would use.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../calculators/index.ts';
import { summarise } from '../../calculators/night-oximetry/summary.ts';
import type { Outcome } from '../../calculators/outcome.ts';
import { show, type UnitCode } from '../../calculators/quantity.ts';
import { type CoughData, coughAndFilling } from '../../src/islands/moving/cough-and-filling.ts';
import { type Controls, firstValues, type Moving, type Picture } from '../../src/islands/moving/figure.ts';
import { nightTrace } from '../../src/islands/moving/night-trace.ts';
import { nightOf, nights } from '../../src/islands/moving/nights.ts';
import { oxygenAndBreath } from '../../src/islands/moving/oxygen-and-breath.ts';
import { percentAndZ } from '../../src/islands/moving/percent-and-z.ts';
import { predictedVolume } from '../../src/islands/moving/predicted-volume.ts';
import { smallBreath } from '../../src/islands/moving/small-breath.ts';
import { readingsFor, type ThresholdData, wideningProjection } from '../../src/islands/moving/widening-projection.ts';

const coughs: CoughData = {
  duchenne: { unassisted: 59, manual: 113, stacking: 170, stackingAndManual: 224, miE: 199, miEAndManual: 240 },
  mixed: { unassisted: 169, miE: 235 },
  known: ['What is known.'],
};
const threshold: ThresholdData = { value: 50, words: 'below 50 % predicted', source: 'a source' };

const figures: Record<string, { figure: Moving<Controls, never>; data: unknown }> = {
  'predicted-volume': { figure: predictedVolume as never, data: undefined },
  'percent-and-z': { figure: percentAndZ as never, data: undefined },
  'oxygen-and-breath': { figure: oxygenAndBreath as never, data: undefined },
  'small-breath': { figure: smallBreath as never, data: undefined },
  'cough-and-filling': { figure: coughAndFilling as never, data: coughs },
  'night-trace': { figure: nightTrace as never, data: undefined },
  'widening-projection': { figure: wideningProjection as never, data: threshold },
};

/** Any place that the controls can be moved to. */
const anywhere = (controls: Controls) =>
  fc.record(
    Object.fromEntries(
      Object.entries(controls).map(([name, control]) => [
        name,
        control.kind === 'choice'
          ? fc.constantFrom(...control.options.map(({ value }) => value))
          : fc
              .integer({ min: 0, max: Math.round((control.max - control.min) / control.step) })
              .map((step) => control.min + step * control.step),
      ]),
    ),
  );

const result = (outcome: Outcome, name: string, decimals: number): string | undefined => {
  const found = outcome.ok ? outcome.results[name] : undefined;
  return found && show(found.value, found.unit as UnitCode, decimals);
};
const cellsOf = (picture: Picture, label: string | RegExp): string[] => {
  const row = picture.table.rows.find((one) =>
    typeof label === 'string' ? one.label === label : label.test(one.label),
  );
  if (!row) throw new Error(`No row ${label}`);
  return row.cells;
};
const runs = { numRuns: 60 };

describe.each(Object.entries(figures))('%s', (_, { figure, data }) => {
  const draw = (values: unknown): Picture => figure.picture(values as never, data as never);
  test('draws something at its first values, in reach of its axes', () => {
    const { draws } = draw(firstValues(figure.controls));
    if (draws.kind === 'bars') return expect(draws.bars.length).toBeGreaterThan(1);
    const { plot } = draws;
    const seen = plot.lines.flatMap(({ points }) => points.flatMap((point) => (point ? [point] : [])));
    expect(seen.length).toBeGreaterThan(20);
    const inside = seen.filter(([x, y]) => x >= plot.x.low && x <= plot.x.high && y >= plot.y.low && y <= plot.y.high);
    expect(inside.length / seen.length).toBeGreaterThan(0.6);
  });
  test('prints no broken number wherever its controls are moved, and a sentence and a table each time', () => {
    fc.assert(
      fc.property(anywhere(figure.controls), (values) => {
        const picture = draw(values);
        const text = JSON.stringify([picture.says, picture.table, picture.notes]);
        expect(text).not.toMatch(/NaN|Infinity|undefined|null/);
        expect(picture.says.length).toBeGreaterThan(20);
        for (const row of picture.table.rows) expect(row.cells.length).toBe(picture.table.columns.length - 1);
        if (draws(picture)) expect(JSON.stringify(draws(picture))).not.toMatch(/NaN|Infinity/);
      }),
      runs,
    );
  });
});
/** Points that are drawn; a broken line is null there, never a broken number. */
const draws = ({ draws }: Picture) =>
  draws.kind === 'plot'
    ? [draws.plot.lines, draws.plot.rules, draws.plot.band, draws.plot.x, draws.plot.y]
    : draws.bars.map(({ value }) => [value]);

test('predicted volume: each set, as the calculator tells it', () => {
  const ids = {
    'GLI Global 2022': 'gli-2022-global',
    'GLI-2012': 'gli-2012',
    'NHANES III': 'nhanes3-1999',
    'ECSC 1993': 'ecsc-1993',
  };
  fc.assert(
    fc.property(anywhere(predictedVolume.controls), (values) => {
      const { sex, age, height, group } = values as never as {
        sex: string;
        age: number;
        height: number;
        group: string;
      };
      const picture = predictedVolume.picture(values as never, undefined);
      for (const [name, set] of Object.entries(ids)) {
        const outcome = calculate('predicted-vital-capacity', {
          sex,
          age,
          height,
          set,
          ...(set === 'gli-2012' || set === 'nhanes3-1999' ? { group: group || undefined } : {}),
        });
        const [predicted, limit] = cellsOf(picture, name);
        if (!outcome.ok) expect(limit).toBe('no value');
        else {
          expect(predicted?.split(' (')[0]).toBe(result(outcome, 'predicted', 2));
          expect(limit?.split(' (')[0]).toBe(result(outcome, 'lln', 2));
        }
      }
    }),
    runs,
  );
});

test('per cent and z-score: as the calculator tells them', () => {
  fc.assert(
    fc.property(anywhere(percentAndZ.controls), (values) => {
      const picture = percentAndZ.picture(values as never, undefined);
      const outcome = calculate('predicted-vital-capacity', { ...(values as object), set: 'gli-2022-global' } as never);
      expect(picture.says).toContain(
        `${result(outcome, 'percentPredicted', 1)} of predicted, and its z-score is ${result(outcome, 'zScore', 2)}`,
      );
      expect(cellsOf(picture, /^This age/)[0]).toBe(result(outcome, 'predicted', 2));
    }),
    runs,
  );
});

test('oxygen and breath: rule and mixture, as the calculator tells them', () => {
  fc.assert(
    fc.property(anywhere(oxygenAndBreath.controls), (values) => {
      const picture = oxygenAndBreath.picture(values as never, undefined);
      const outcome = calculate('oxygen-flow-to-fio2', { ...(values as object), interface: 'cannula' } as never);
      expect(cellsOf(picture, 'Cannula rule')[1]).toBe(result(outcome, 'fio2', 0));
      const [flow, mixed] = cellsOf(picture, /^This one/);
      expect(flow).toBe(result(outcome, 'inspiratoryFlow', 0));
      expect(mixed).toBe(result(outcome, 'estimate', 0) ?? 'no result: more oxygen than the breath takes in');
    }),
    runs,
  );
  expect(oxygenAndBreath.before?.join(' ')).toContain('hide');
});

test('small breath: minute, alveolar and settled carbon dioxide, as the calculators tell them', () => {
  fc.assert(
    fc.property(anywhere(smallBreath.controls), (values) => {
      const { breath, rate, deadSpace } = values as never as Record<string, number>;
      const picture = smallBreath.picture(values as never, undefined);
      const own = calculate('minute-ventilation', { breath, rate, deadSpace });
      const quiet = calculate('minute-ventilation', { breath: 500, rate: 14, deadSpace });
      const cells = cellsOf(picture, /^This one/);
      expect(cells[0]).toBe(result(own, 'minute', 1));
      const alveolar = own.ok ? own.results.alveolar : undefined;
      if (alveolar === undefined) expect(cells[3]).toBe('cannot tell');
      else {
        expect(cells[1]).toBe(result(own, 'alveolar', 1));
        expect(cells[2]).toBe(result(own, 'lost', 0));
        const settled = calculate('co2-and-ventilation', {
          paco2: 40,
          ventilationNow: quiet.ok ? quiet.results.alveolar?.value : undefined,
          ventilationNew: alveolar.value,
        });
        expect(cells[3]).toBe(settled.ok ? result(settled, 'paco2', 0) : 'cannot tell: too little to calculate with');
      }
    }),
    runs,
  );
  // By hand: 250 x 28 is 7 L/min; (250 - 150) x 28 is 2.8 L/min; 40 x 4.9 / 2.8 is 70.
  expect(cellsOf(smallBreath.picture(firstValues(smallBreath.controls), undefined), /^This one/)).toEqual([
    '7.0\u00a0L/min',
    '2.8\u00a0L/min',
    '60\u00a0%',
    '70\u00a0mmHg',
  ]);
});

test('cough: means as handed in, gains as the calculator tells them', () => {
  const picture = coughAndFilling.picture({ study: 'duchenne', technique: 'stacking' }, coughs);
  const outcome = calculate('cough-gain', {
    unassisted: 59,
    manual: 113,
    stacking: 170,
    stackingAndManual: 224,
    miE: 199,
  });
  expect(cellsOf(picture, 'Chest filled first')).toEqual([
    '170\u00a0L/min',
    result(outcome, 'stackingGain', 0),
    result(outcome, 'stackingPercent', 0),
  ]);
  expect(cellsOf(picture, 'Machine')[1]).toBe(result(outcome, 'miEGain', 0));
  // By hand: 240 - 59 is 181.
  expect(cellsOf(picture, 'Machine, and a thrust')[1]).toBe('181\u00a0L/min');
  expect(coughAndFilling.picture({ study: 'mixed', technique: 'stacking' }, coughs).says).toContain('did not measure');
});

test('nights: figures as the summary of any recording tells them; and each pattern is there to be found', () => {
  for (const night of Object.keys(nights) as (keyof typeof nights)[]) {
    const found = summarise(nightOf(night));
    if (!found.ok) throw new Error(found.message);
    const cells = cellsOf(nightTrace.picture({ night, view: 'whole', from: 3 }, undefined), 'Whole night');
    expect(cells[3]).toBe(show(found.summary.below90Seconds / 60, 'min', 0));
    expect(cells[5]).toBe(String(found.summary.drops3));
  }
  const of = (night: keyof typeof nights) => {
    const found = summarise(nightOf(night));
    if (!found.ok) throw new Error(found.message);
    return found.summary;
  };
  // Long sags: long stretches, hardly a drop that ends within a minute and a half. Saw-tooth: the other way round.
  expect(of('one').longestAtOrBelow88Seconds).toBeGreaterThan(15 * 60);
  expect(of('two').drops3PerHour).toBeGreaterThan(20);
  expect(of('one').drops3PerHour).toBeLessThan(2);
  expect(of('two').longestAtOrBelow88Seconds).toBeLessThan(60);
  // The slipped sensor: over an hour without a value, and no low minute from it.
  expect(of('three').leftOut.noValueSeconds).toBeGreaterThan(3600);
  expect(of('three').below90Seconds).toBe(0);
  // Oxygen: the second half has nothing below 90 although the sags go on.
  expect(
    of('four')
      .hours.slice(4)
      .every(({ below90Seconds }) => below90Seconds === 0),
  ).toBe(true);
  expect(
    of('four')
      .hours.slice(0, 4)
      .some(({ below90Seconds }) => below90Seconds > 0),
  ).toBe(true);
});

test('projection: dates as the decline calculator tells them, and wider with scatter and with fewer readings', () => {
  fc.assert(
    fc.property(anywhere(wideningProjection.controls), (values) => {
      const { count, fall, scatter } = values as never as Record<string, number>;
      const readings = readingsFor(count ?? 0, fall ?? 0, scatter ?? 0);
      const outcome = calculate('decline-rate', {
        test: 'vc-percent',
        sameMethod: 'yes',
        readings: readings.map(({ day, value }) => ({ time: day, value })),
        threshold: threshold.value,
      });
      const says = wideningProjection.picture(values as never, threshold).says;
      const earliest = outcome.ok ? outcome.results.earliest : undefined;
      if (says.startsWith('The threshold is already')) return;
      expect(says.startsWith('The threshold could be reached')).toBe(earliest !== undefined);
      if (earliest) expect(says).toContain(`as early as ${show(earliest.value / 30.4375, 'mo{span}', 1)} after`);
    }),
    runs,
  );
  const width = (count: number, scatter: number) => {
    const { draws } = wideningProjection.picture({ count, fall: 2, scatter }, threshold);
    const end = draws.kind === 'plot' ? draws.plot.band?.points.at(-1) : undefined;
    return end ? end[2] - end[1] : Number.NaN;
  };
  expect(width(6, 4)).toBeGreaterThan(width(6, 2));
  expect(width(4, 2)).toBeGreaterThan(width(8, 2));
});
