/**
 * The agreements that this device has had in force, newest first: to go back to one, and to look up which one was used
 * when. Like the one in force, they say nothing about any person.
 */
import type { Agreement } from '../../calculators/agreement/agreement.ts';
import { today } from '../browser/today.ts';
import { agreementChanged, hasBuiltIn, type Kept, keep, kept } from './store.ts';

const key = 'tidemark:agreements';
const most = 8;

export interface Shelved {
  agreement: Agreement;
  digest?: string;
  /** days on which it came into force on this device, and on which another took its place */
  since?: string;
  until: string;
}

export function shelf(): Shelved[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(list) ? list : [];
  } catch {
    return [];
  }
}

function write(list: readonly Shelved[]): void {
  try {
    localStorage.setItem(key, JSON.stringify(list.slice(0, most)));
  } catch {
    // A browser that keeps nothing: there is no history.
  }
  dispatchEvent(new CustomEvent(agreementChanged));
}

const sameText = (a: Agreement, b: Agreement): boolean => JSON.stringify(a) === JSON.stringify(b);

/**
 * Puts one in force and the one before it on the shelf.
 * @returns how to undo it; undefined where the browser keeps nothing, and nothing has changed
 */
export function putInForce(next: Kept): (() => void) | undefined {
  const before = kept();
  const shelfBefore = shelf();
  if (!keep(next)) return undefined;
  const old = before?.agreement;
  const others = shelfBefore.filter(({ agreement }) => !next.agreement || !sameText(agreement, next.agreement));
  if (old && !(next.agreement && sameText(old, next.agreement))) {
    const { digest, since } = before;
    const entry = { agreement: old, ...(digest ? { digest } : {}), ...(since ? { since } : {}), until: today() };
    write([entry, ...others.filter(({ agreement }) => !sameText(agreement, old))]);
  } else write(others);
  return () => {
    // Where nothing was ever asked, a built-in agreement is in force by itself.
    keep(before ?? { on: hasBuiltIn });
    write(shelfBefore);
  };
}

export const takeOffShelf = (place: number): void => write(shelf().filter((_, at) => at !== place));
