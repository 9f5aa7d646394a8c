/**
 * The bicarbonate that a raised CO2 would bring with it: if it came today, and if it has been there for days.
 *
 *   acute     24 + 0.1 x (PaCO2 - 40)
 *   chronic   24 + slope x (PaCO2 - 40), slope 0.35, 0.40 or 0.51
 *             29.9 + 0.476 x (PaCO2 - 52.8), the line through the means of Gonzalez 2018
 *
 * The kidneys answer a lasting rise in CO2 by holding on to bicarbonate, over days. A bicarbonate near
 * the chronic lines tells of CO2 that has been up for a while, often every night, although nobody
 * measured it. The published slopes differ, and at 60 mmHg they span 31 to 34 mmol/L: none is chosen here.
 *
 * @refuses a CO2 of 40 mmHg or less (nothing to compensate) and above 80 mmHg, where no line is known to hold.
 *          Gonzalez 2018 is left out beyond the CO2 it was measured at, 44.2 to 68.8 mmHg
 */
import { defineCalculator, formula } from '../calculator.ts';
import { type ResultTable, refuse } from '../outcome.ts';
import { show } from '../quantity.ts';
import { bicarbonate, mercury, paco2 } from './shared-fields.ts';

const co2 = { means: 'arterial CO2', unit: 'mmHg', range: [40, 80] } as const;

export const gonzalez = formula({
  result: 'bicarbonate',
  unit: 'mmol/L',
  text: '29.9 + 0.476 * (paco2 - 52.8)',
  withUnits: '29.9 mmol/L + 0.476 mmol/L/mmHg * (paco2 - 52.8 mmHg)',
  symbols: { paco2: co2 },
  run: ({ paco2 }) => 29.9 + 0.476 * (paco2 - 52.8),
});

const fromNormal = formula({
  result: 'bicarbonate',
  unit: 'mmol/L',
  text: '24 + slope * (paco2 - 40)',
  withUnits: '24 mmol/L + slope * (paco2 - 40 mmHg)',
  symbols: {
    slope: { means: 'bicarbonate gained for each mmHg of CO2', unit: 'mmol/L/mmHg', range: [0.1, 0.51] },
    paco2: co2,
  },
  run: ({ slope, paco2 }) => 24 + slope * (paco2 - 40),
});

/** PaCO2 of the 28 people Gonzalez measured, mmHg. */
const gonzalezRange = [44.2, 68.8] as const;
/** Our own limit: near it the steepest line reaches 45 mmol/L, the most that kidneys are said to hold (not yet checked). */
const highestCo2 = 80;

export const slopes = { acute: 0.1, classic: 0.35, classicHigh: 0.4, steep: 0.51 } as const;

export default defineCalculator({
  id: 'bicarbonate-for-co2',
  title: 'Bicarbonate expected for a raised CO2',
  purpose:
    'Compares a measured bicarbonate with the bicarbonate that each published formula predicts after a recent or a long-standing rise in CO2.',
  group: 'gas',
  keywords: [
    'bicarbonate',
    'HCO3',
    'compensation',
    'chronic hypercapnia',
    'respiratory acidosis',
    'base excess',
    'ABG',
  ],
  fields: {
    paco2,
    measured: { ...bicarbonate, label: 'Measured bicarbonate', optional: true },
  },
  formulas: { gonzalez, fromNormal },
  results: {
    acute: {
      label: 'If the rise is new (0.1 per mmHg, not yet checked)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [20, 36],
    },
    gonzalez: {
      label: 'Long-standing, Gonzalez 2018 (0.476)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [20, 60],
      main: true,
    },
    classic: {
      label: 'Long-standing, 0.35 per mmHg (not yet checked)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [20, 60],
    },
    classicHigh: {
      label: 'Long-standing, 0.40 per mmHg (not yet checked)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [20, 65],
    },
    steep: {
      label: 'Long-standing, 0.51 per mmHg (not yet checked)',
      unit: 'mmol/L',
      decimals: 1,
      plausible: [20, 70],
    },
  },
  holds: {
    population: 'adults in a steady state whose only acid-base disorder is a raised CO2',
    notFor:
      'CO2 of 40 mmHg or less, or above 80 mmHg; mixed disorders; people who take diuretics, are vomiting or have kidney disease',
  },
  cautions: [
    'The expected values apply only if the raised CO2 is the only acid-base disorder. Diuretics, vomiting, steroids and kidney disease change bicarbonate by themselves.',
    'A raised CO2 is not safe just because it has been high for a while. A bicarbonate that matches the expected value is no reason to wait before getting help.',
    'If someone with neuromuscular disease is unwell and has a raised CO2, get urgent help first and calculate later.',
  ],
  citations: [
    {
      cite: 'Gonzalez SB, Menga G, Raimondi GA, et al. Kidney Int Rep 2018;3:1163-1170',
      locator:
        'abstract: slope 0.476 (95% interval 0.414 to 0.538), PaCO2 44.2 to 68.8, means 52.8 and 29.9, 28 people',
      standing: 'checked',
      note: 'The abstract does not give the intercept of the line; we derived the line through the two means.',
    },
    {
      cite: 'Earlier studies, slopes of 0.35 to 0.51 mEq/L per mmHg',
      locator:
        'the lowest and the highest slope are named in the abstract of Gonzalez 2018; the slope of 0.40, and starting each line at 24 mmol/L and 40 mmHg, are not yet checked',
      standing: 'checked-in-summary',
      note: 'Gonzalez 2018 says that the methods of all the studies before it were flawed. From memory, the slope of 0.51 mEq/L of bicarbonate per mmHg of CO2 comes from Martinu 2003.',
    },
    {
      cite: 'Bicarbonate gained in an acute rise, 0.1 mmol/L per mmHg of CO2',
      locator: 'from memory; we opened no source',
      standing: 'from-memory',
    },
    mercury,
  ],
  compute: ({ paco2, measured }, step) => {
    if (paco2 <= 40)
      return refuse(
        'paco2',
        `These expected values start above 40 mmHg (5.3 kPa). ${show(paco2, 'mm[Hg]', 1)} is not raised, so there is nothing to compensate for`,
      );
    if (paco2 > highestCo2)
      return refuse(
        'paco2',
        `Above 80 mmHg (10.7 kPa) none of these expected values is known to apply. ${show(paco2, 'mm[Hg]', 1)} is an emergency, whatever the bicarbonate`,
      );
    const within = paco2 >= gonzalezRange[0] && paco2 <= gonzalezRange[1];
    const results = {
      acute: { value: step(fromNormal, { slope: slopes.acute, paco2 }) },
      ...(within ? { gonzalez: { value: step(gonzalez, { paco2 }) } } : {}),
      classic: { value: step(fromNormal, { slope: slopes.classic, paco2 }) },
      classicHigh: { value: step(fromNormal, { slope: slopes.classicHigh, paco2 }) },
      steep: { value: step(fromNormal, { slope: slopes.steep, paco2 }) },
    };
    return {
      results,
      cautions: within
        ? []
        : [
            `Gonzalez 2018 is left out: it measured people at 44.2 to 68.8\u00a0mmHg, and ${show(paco2, 'mm[Hg]', 1)} is outside that range.`,
          ],
      tables: measured === undefined ? [] : [differences(measured, results)],
    };
  },
});

function differences(measured: number, expected: Record<string, { value: number }>): ResultTable {
  const names: Record<string, string> = {
    acute: 'New rise',
    gonzalez: 'Long-standing, Gonzalez 2018',
    classic: 'Long-standing, 0.35',
    classicHigh: 'Long-standing, 0.40',
    steep: 'Long-standing, 0.51',
  };
  return {
    caption: 'Measured bicarbonate against each line',
    columns: ['Line', 'Expected', 'Measured minus expected'],
    rows: Object.entries(expected).map(([name, { value }]) => ({
      label: names[name] ?? name,
      cells: [show(value, 'mmol/L', 1), show(measured - value, 'mmol/L', 1)],
    })),
  };
}
