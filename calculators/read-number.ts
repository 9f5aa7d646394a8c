/**
 * From what a reader typed to a number and its unit.
 *
 * Nothing is guessed: a comma that could be a decimal sign or a thousands sign is asked about, and
 * feet with inches are read only in forms that cannot mean anything else.
 */
import { type Quantity, type UnitCode, unitCodes, units } from './quantity.ts';

export type ReadNumber = { ok: true; quantity: Quantity } | { ok: false; message: string };

const signs = '+\u2212\u2013\u2014\u2010\u2011-';
const written = new RegExp(`^([${signs}]?) ?([\\d.,'\u2019 ]*\\d[.,]?) ?([^\\d ].*)?$`, 'u');
/** '38²' is 38 with a footnote and '4½' is not 41: neither may melt into its digits when forms are made equal. */
const raised = /\d\s*[\u00b2\u00b3\u00b9\u00bc-\u00be\u2070-\u2079\u2150-\u215f]/u;

/**
 * @param text    as typed or pasted; spaces at the ends, a unit after the number and any kind of minus sign are accepted
 * @param unit    the unit chosen beside the field, used when the text names none
 * @param label   the field's label, for the message
 * @returns the number in the unit typed, unrounded; or a message that says what to type instead
 */
export function readNumber(
  text: string,
  unit: UnitCode,
  label: string,
  allowed: readonly UnitCode[] = [unit],
): ReadNumber {
  const clean = text
    .normalize('NFKC')
    .replace(/[\u00a0\u202f\s]+/g, ' ')
    .trim();
  if (allowed.includes('[ft_i]')) {
    const feet = readFeet(clean, unit);
    if (feet) return feet;
  }
  const match = raised.test(text) ? null : written.exec(clean);
  const [, sign = '', body] = match ?? [];
  if (!match || body === undefined)
    return { ok: false, message: `${label}: "${text.trim()}" is not a number. Type digits, such as 4.5` };
  const named = match[3] === undefined ? unit : unitNamed(match[3], allowed);
  if (named === undefined)
    return {
      ok: false,
      message: `${label}: "${match[3]}" is not a unit taken here. Use ${
        allowed
          .map((code) => units[code].symbol)
          .filter(Boolean)
          .join(' or ') || 'a plain number'
      }`,
    };
  const value = readDecimal(body);
  if (value === undefined)
    return {
      ok: false,
      message: `${label}: "${body}" could be read two ways. Type it with a point and no thousands sign, such as ${body.replace(/[.,' \u2019]/g, '')}`,
    };
  if (Number.isNaN(value))
    return { ok: false, message: `${label}: "${clean}" is not a number. Type digits, such as 4.5` };
  return { ok: true, quantity: { value: sign === '' || sign === '+' ? value : -value, unit: named } };
}

/** @returns undefined when the text can be read two ways, NaN when it cannot be read */
function readDecimal(body: string): number | undefined {
  if (/^(\d+\.?\d*|\.\d+)$/.test(body)) return Number(body);
  if (/^(\d*,\d{1,2}|\d*,\d{4,}|0,\d+)$/.test(body)) return Number(body.replace(',', '.'));
  if (/^\d{1,3}([,' \u2019]\d{3})+(\.\d+)?$/.test(body))
    return /^\d{1,3},\d{3}$/.test(body) ? undefined : Number(body.replace(/[,' \u2019]/g, ''));
  return Number.NaN;
}

function readFeet(clean: string, unit: UnitCode): ReadNumber | undefined {
  const feet =
    /^(\d)\s*(?:'|\u2019|\u2032|ft|feet|foot)\s*(?:(\d{1,2}(?:[.,]\d+)?)\s*(?:"|''|\u201d|\u2032\u2032|in|inch|inches)?)?$/i.exec(
      clean,
    );
  const spaced = unit === '[ft_i]' ? /^(\d)\s+(\d{1,2}(?:[.,]\d+)?)$/.exec(clean) : null;
  const found = feet ?? spaced;
  if (!found) {
    if (
      /^\d[.,]\d+ ?(?:'|\u2019|\u2032|ft|feet|foot)$/i.test(clean) ||
      (unit === '[ft_i]' && /^\d[.,]\d+$/.test(clean))
    )
      return { ok: false, message: `Is "${clean}" feet and inches or a decimal? Type 5 ft 8 in as 5'8` };
    return undefined;
  }
  const inches = Number((found[2] ?? '0').replace(',', '.'));
  if (inches >= 12) return { ok: false, message: `Inches run from 0 to 11. "${found[2]}" is more than a foot` };
  return { ok: true, quantity: { value: Number(found[1]) * 12 + inches, unit: '[in_i]' } };
}

const spellings: Partial<Record<UnitCode, readonly string[]>> = {
  L: ['l', 'litre', 'litres', 'liter', 'liters'],
  mL: ['ml', 'cc'],
  'L/min': ['l/min', 'lpm', 'l/m', 'litres per minute'],
  'L/s': ['l/s', 'l/sec', 'lps'],
  'cm[H2O]': ['cmh2o', 'cm h2o', 'cm water'],
  'mm[Hg]': ['mmhg', 'torr', 'mm hg'],
  kPa: ['kpa'],
  '[in_i]': ['in', 'inch', 'inches', '"'],
  '[lb_av]': ['lb', 'lbs', 'pound', 'pounds'],
  a: ['y', 'yr', 'yrs', 'year', 'years', 'a'],
  '/min': ['/min', 'bpm', 'per minute'],
};

function unitNamed(text: string, allowed: readonly UnitCode[]): UnitCode | undefined {
  const asked = text.trim().toLowerCase();
  return unitCodes.find(
    (code) =>
      allowed.includes(code) &&
      (code.toLowerCase() === asked || units[code].symbol.toLowerCase() === asked || spellings[code]?.includes(asked)),
  );
}
