/**
 * Units and their conversions.
 *
 * Codes are UCUM (https://ucum.org), the open standard for units in health records; what a
 * reader sees is the `symbol`. A conversion goes through one base unit of the same dimension
 * at full double precision and never rounds.
 *
 * @source  1 mmHg = 133.322387415 Pa, 1 cmH2O = 98.0665 Pa: UCUM essence file (m[Hg], m[H2O]), read
 *          2026-11-25. The published criteria are converted with 1 kPa = 7.50062 mmHg: the two agree within 1 part in 10^6.
 *          Inch, foot and pound: international definitions (UCUM [in_i], [ft_i], [lb_av]). Degree Fahrenheit: 5/9 K, with 32 °F
 *          at 0 °C (definition).
 */

interface UnitDefinition {
  /** what is measured; only units of one dimension convert into each other */
  dimension: string;
  /** as printed to a reader */
  symbol: string;
  /** how many base units one of these is */
  factor: number;
  /** what its nought is in base units, where the scales do not start together */
  offset?: number;
}

/** UCUM's month is the mean one of the Julian calendar: 365.25 / 12 days. */
export const daysInMonth = 30.4375;

const define = <const T extends Record<string, UnitDefinition>>(units: T) => units;

export const units = define({
  cm: { dimension: 'length', symbol: 'cm', factor: 1 },
  m: { dimension: 'length', symbol: 'm', factor: 100 },
  mm: { dimension: 'length', symbol: 'mm', factor: 0.1 },
  '[in_i]': { dimension: 'length', symbol: 'in', factor: 2.54 },
  '[ft_i]': { dimension: 'length', symbol: 'ft', factor: 30.48 },
  km: { dimension: 'altitude', symbol: 'km', factor: 1000 },
  'm{altitude}': { dimension: 'altitude', symbol: 'm', factor: 1 },
  '[ft_i]{altitude}': { dimension: 'altitude', symbol: 'ft', factor: 0.3048 },
  kg: { dimension: 'mass', symbol: 'kg', factor: 1 },
  '[lb_av]': { dimension: 'mass', symbol: 'lb', factor: 0.45359237 },
  L: { dimension: 'volume', symbol: 'L', factor: 1 },
  mL: { dimension: 'volume', symbol: 'mL', factor: 0.001 },
  'L/min': { dimension: 'flow', symbol: 'L/min', factor: 1 },
  'L/s': { dimension: 'flow', symbol: 'L/s', factor: 60 },
  'mL/min': { dimension: 'flow', symbol: 'mL/min', factor: 0.001 },
  'cm[H2O]': { dimension: 'pressure', symbol: 'cmH2O', factor: 98.0665 },
  'mm[Hg]': { dimension: 'pressure', symbol: 'mmHg', factor: 133.322387415 },
  kPa: { dimension: 'pressure', symbol: 'kPa', factor: 1000 },
  Cel: { dimension: 'temperature', symbol: '°C', factor: 1 },
  '[degF]': { dimension: 'temperature', symbol: '°F', factor: 5 / 9, offset: -160 / 9 },
  '[psi]': { dimension: 'pressure', symbol: 'psi', factor: 6894.757293168361 },
  hPa: { dimension: 'pressure', symbol: 'hPa', factor: 100 },
  bar: { dimension: 'pressure', symbol: 'bar', factor: 100000 },
  '%': { dimension: 'share', symbol: '%', factor: 0.01 },
  '1': { dimension: 'share', symbol: '', factor: 1 },
  '{ratio}': { dimension: 'ratio', symbol: '', factor: 1 },
  '{SD}': { dimension: 'z-score', symbol: 'SD', factor: 1 },
  '{points}': { dimension: 'score', symbol: 'points', factor: 1 },
  '{count}': { dimension: 'count', symbol: '', factor: 1 },
  a: { dimension: 'age', symbol: 'years', factor: 12 },
  mo: { dimension: 'age', symbol: 'months', factor: 1 },
  d: { dimension: 'days', symbol: 'days', factor: 1 },
  wk: { dimension: 'days', symbol: 'weeks', factor: 7 },
  // annotated because a month of age is kept apart from a span of days
  'mo{span}': { dimension: 'days', symbol: 'months', factor: daysInMonth },
  h: { dimension: 'time', symbol: 'h', factor: 3600 },
  min: { dimension: 'time', symbol: 'min', factor: 60 },
  s: { dimension: 'time', symbol: 's', factor: 1 },
  'h/d': { dimension: 'hours a day', symbol: 'h/day', factor: 1 },
  '/min': { dimension: 'rate', symbol: '/min', factor: 1 },
  '/h': { dimension: 'events', symbol: '/h', factor: 1 },
  'mmol/L': { dimension: 'concentration', symbol: 'mmol/L', factor: 1 },
  'nmol/L': { dimension: 'hydrogen', symbol: 'nmol/L', factor: 1 },
  'mL/kg': { dimension: 'volume per weight', symbol: 'mL/kg', factor: 1 },
  'kg/m2': { dimension: 'body mass index', symbol: 'kg/m²', factor: 1 },
  'g/dL': { dimension: 'haemoglobin', symbol: 'g/dL', factor: 1 },
  'g/L': { dimension: 'haemoglobin', symbol: 'g/L', factor: 0.1 },
  'mL/dL': { dimension: 'content', symbol: 'mL/dL', factor: 1 },
  m2: { dimension: 'area', symbol: 'm²', factor: 1 },
  '[pH]': { dimension: 'pH', symbol: '', factor: 1 },
  'W.h': { dimension: 'energy', symbol: 'Wh', factor: 1 },
  W: { dimension: 'power', symbol: 'W', factor: 1 },
  'cm[H2O]/(3.mo)': {
    dimension: 'pressure fall',
    symbol: 'cmH2O in 3 months',

    factor: 1,
  },
  '%/(3.mo)': { dimension: 'relative fall', symbol: '% in 3 months', factor: 1 },
  '{reading}': { dimension: 'reading', symbol: '', factor: 1 },
  '{points}/mo': { dimension: 'points slope', symbol: 'points per month', factor: 1 },
  'L/mo': { dimension: 'volume slope', symbol: 'L per month', factor: 1 },
  'L/min/mo': {
    dimension: 'flow slope',
    symbol: 'L/min per month',

    factor: 1,
  },
  'cm[H2O]/mo': {
    dimension: 'pressure slope',
    symbol: 'cmH2O per month',

    factor: 1,
  },
  '/min/L': { dimension: 'rapid shallow index', symbol: '/min/L', factor: 1 },
  '%/mo': { dimension: 'slope', symbol: '% per month', factor: 1 },
});

export type UnitCode = keyof typeof units;
export const unitCodes = Object.keys(units) as UnitCode[];
export const isUnit = (code: string): code is UnitCode => Object.hasOwn(units, code);

export interface Quantity {
  value: number;
  unit: UnitCode;
}

/** Whether a value in one unit can be converted into the other. */
export const convertible = (from: UnitCode, to: UnitCode): boolean => units[from].dimension === units[to].dimension;

const offsetOf = (code: UnitCode): number => (units[code] as UnitDefinition).offset ?? 0;

/**
 * Tell a value in another unit of the same dimension, at full precision.
 *
 * @param value  any finite number
 * @throws RangeError when the two units measure different things: a mistake in our own code, never the reader's
 */
export function convert(value: number, from: UnitCode, to: UnitCode): number {
  if (from === to) return value;
  if (!convertible(from, to)) throw new RangeError(`${from} does not convert to ${to}`);
  return (value * units[from].factor + offsetOf(from) - offsetOf(to)) / units[to].factor;
}

/**
 * Compare two numbers as the criteria's rule 2 asks: what was typed in the threshold's own unit is compared
 * as typed; after a conversion, numbers closer than one part in a thousand million are equal, so that
 * 4.1 L/s is 246 L/min and not 245.99999999999997.
 *
 * @returns negative, zero or positive as `a` is below, equal to or above `b`
 */
export function compare(a: number, b: number, converted: boolean): number {
  const difference = a - b;
  if (converted && Math.abs(difference) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b))) return 0;
  return difference;
}

/**
 * A value as printed: figure, no-break space, unit, in one string. Rounds half away from zero on the
 * decimal digits a reader would see, for display only.
 */
export function show(value: number, unit: UnitCode, decimals: number): string {
  const symbol = units[unit].symbol;
  const figure = showNumber(value, decimals);
  if (symbol === '') return figure;
  return `${figure}\u00a0${symbol}`;
}

export function showNumber(value: number, decimals: number): string {
  // toFixed works on the binary value, so 0.285.toFixed(2) is 0.28; the exponent form rounds what is seen.
  const rounded = Number(`${Math.round(Number(`${Math.abs(value)}e${decimals}`))}e-${decimals}`);
  const text = Number.isFinite(rounded) ? rounded.toFixed(decimals) : Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `\u2212${text}` : text;
}
