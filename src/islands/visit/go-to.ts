/** From a line of the findings to the field it speaks of: its folds open, and the field has the focus. */
import type { Measures } from '../../../calculators/domain/measure.ts';
import { singles } from '../../../calculators/evaluate/short-visit.ts';

const facts: Record<string, string> = { age: '#visit-age', sex: '[name="visit-sex"]', disease: '#visit-disease' };

/** @returns the field, or of a sign that is made of others the first that is asked */
function fieldOf(id: string, measures: Measures): HTMLElement | undefined {
  const ids = measures[id]?.kind === 'sign' ? singles(id, measures) : [id];
  for (const one of ids) {
    const found = document.querySelector<HTMLElement>(facts[one] ?? `.visit [data-measure="${CSS.escape(one)}"]`);
    if (found) return found;
  }
  return undefined;
}

export function goTo(id: string, measures: Measures): void {
  const field = fieldOf(id, measures);
  if (!field) return;
  for (let fold = field.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null)
    fold.open = true;
  const control = field.matches('input, select') ? field : field.querySelector<HTMLElement>('input, select, textarea');
  field.scrollIntoView({ block: 'center' });
  control?.focus({ preventScroll: true });
}
