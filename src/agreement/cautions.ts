/** What a reader of this device has to know before relying on its agreement. */
import { cautionsOf } from '../../calculators/agreement/status.ts';
import { today } from '../browser/today.ts';
import { isOn, kept, line } from './store.ts';

/** How many criteria of the agreement in force stand on evidence that has changed, as last counted. */
const changedHere = (): number | undefined =>
  kept()?.agreement === undefined ? Number(line?.dataset.changed ?? 0) : kept()?.changed?.count;

export function cautionsHere(): string[] {
  if (!isOn()) return [];
  const { status, review = '' } = kept()?.agreement ?? (line?.dataset as { status?: 'draft'; review?: string }) ?? {};
  return cautionsOf({ status, review }, changedHere(), today());
}
