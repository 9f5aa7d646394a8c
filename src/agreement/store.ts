/**
 * The one agreement on this device, or the choice to do without the one that is built into the site. Kept until it is
 * switched off or another takes its place: it is the clinic's, and says nothing about any person.
 */
import type { Agreement } from '../../calculators/agreement/agreement.ts';

const key = 'tidemark:agreement';
export const agreementChanged = 'tidemark:agreement-changed';

export interface Kept {
  on: boolean;
  /** the day it was put in force on this device */
  since?: string;
  /** kept by an earlier version of the site, and of no form that this one knows */
  unreadable?: true;
  /** missing: the one built into the site, where there is one */
  agreement?: Agreement;
  /** of `agreement`; missing where this browser works out none, and on what an earlier version of the site stored */
  digest?: string;
  /** under how many of its criteria the evidence has changed; counted on which day, with which copy of the handbook */
  changed?: { on: string; count: number };
}

/** @returns undefined when this device has never been asked, or its browser keeps nothing */
export function kept(): Kept | undefined {
  try {
    return JSON.parse(localStorage.getItem(key) ?? '') as Kept;
  } catch {
    return undefined;
  }
}

/** @returns whether the browser kept it */
export function keep(next: Kept): boolean {
  let stored = true;
  try {
    localStorage.setItem(key, JSON.stringify(next));
  } catch {
    stored = false;
  }
  tell();
  return stored;
}

const tell = () => dispatchEvent(new CustomEvent(agreementChanged));
// Every open page shows the same criteria: another tab's change is this one's. While the site is built there is no tab.
globalThis.addEventListener?.('storage', (event) => {
  if (event.key === key || event.key === null) tell();
});

/** Whether the site itself brings an agreement (src/agreement/built-in.ts). */
export const line = globalThis.document?.querySelector<HTMLElement>('[data-agreement-line]');
export const hasBuiltIn = line?.dataset.clinic !== undefined;

export const isOn = (): boolean => {
  const now = kept();
  return now?.on !== false && (now?.agreement !== undefined || hasBuiltIn);
};

/** Digest of the agreement that this device speaks with: stored beside it, or worked out when the site was built. */
export const digestHere = (): string | undefined => {
  const now = kept();
  return now?.agreement === undefined ? line?.dataset.digest : now.digest;
};

export const switchTo = (on: boolean): boolean => keep({ ...kept(), on });
