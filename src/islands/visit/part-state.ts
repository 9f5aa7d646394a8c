/** When a part of the short visit is done, and the line that stands for it when it is closed. */
import type { Decisions } from '../../../calculators/domain/decision.ts';
import type { Measures } from '../../../calculators/domain/measure.ts';
import { supportStatusWords, wishWords } from '../../../calculators/domain/visit.ts';
import type { AskedPart } from '../../../calculators/evaluate/short-visit.ts';
import { units } from '../../../calculators/quantity.ts';
import { type Entries, readEntry } from './entries.ts';

/** Nobody has to write who answers, or a remark. */
const optional = new Set(['answers', 'remark']);

export const supportOf = (id: string): string | undefined => (id.startsWith('support:') ? id.slice(8) : undefined);

/** A field that has its answer; a number with the gas or the message that it waits for has none yet. */
export function isAnswered(id: string, entries: Entries, measures: Measures): boolean {
  const support = supportOf(id);
  if (support) return entries.supports[support] !== undefined;
  if (id === 'wishes') return entries.wishes.length > 0;
  if (id === 'answers') return entries.answers.trim() !== '';
  if (id === 'remark') return entries.remark.trim() !== '';
  const measure = measures[id];
  if (measure === undefined) return entries.choices[id] !== undefined;
  if (measure.kind !== 'number') return entries.signs[id] !== undefined;
  if (entries.notDone[id] !== undefined) return true;
  const entry = entries.readings[id];
  const read = entry && readEntry(entry, measure);
  return read !== undefined && 'reading' in read && (!measure.roomAir || entry?.gas !== undefined);
}

export const isDone = ({ short, ticks }: AskedPart, entries: Entries, measures: Measures): boolean =>
  [...short.filter((id) => !optional.has(id)), ...ticks].every((id) => isAnswered(id, entries, measures));

/** 'SpO2 95 % on room air; CO2 raised. 3 answered no.' */
export function summaryOfPart(
  ids: readonly string[],
  entries: Entries,
  measures: Measures,
  decisions: Decisions,
): string {
  const said = ids.flatMap((id) => fieldWords(id, entries, measures, decisions));
  const noes = ids.filter((id) => entries.signs[id] === 'absent').length;
  const words = [said.join('; '), noes > 0 ? `${noes} answered no` : ''].filter(Boolean).join('. ');
  return words === '' ? '' : words.charAt(0).toUpperCase() + words.slice(1);
}

const gasWords = { air: 'on room air', oxygen: 'on oxygen', ventilation: 'on a ventilator' } as const;

function fieldWords(id: string, entries: Entries, measures: Measures, decisions: Decisions): string[] {
  const support = supportOf(id);
  if (support) {
    const status = entries.supports[support];
    const hours = entries.supportTimes[support]?.hours?.trim();
    const label = decisions[support]?.status?.label ?? support;
    return status ? [`${label}: ${supportStatusWords[status]}${hours ? `, ${hours} h` : ''}`] : [];
  }
  if (id === 'wishes') return entries.wishes.map((wish) => wishWords[wish]);
  if (id === 'answers' || id === 'remark') return entries[id].trim() === '' ? [] : [entries[id].trim()];
  const measure = measures[id];
  if (measure?.kind === 'number') {
    const entry = entries.readings[id];
    if (!entry?.text.trim()) return entries.notDone[id] ? [`${measure.short} not done`] : [];
    const symbol = units[entry.unit].symbol;
    return [
      [measure.named ?? measure.short, entry.text.trim(), symbol, entry.gas && gasWords[entry.gas]]
        .filter(Boolean)
        .join(' '),
    ];
  }
  return entries.signs[id] === 'present' ? [measure?.short ?? id] : [];
}
