/**
 * Criteria of the clinic's own that were begun and neither added nor cancelled. They stay on this device beside the draft:
 * a meeting looks at another decision in between, and nothing typed is lost.
 */
import type { AgreedCriterion } from '../../../calculators/agreement/agreement.ts';
import type { Disease } from '../../../calculators/domain/diseases.ts';
import type { UnitCode } from '../../../calculators/quantity.ts';

/** What the form asks for, as typed. */
export interface Fields {
  people: Pick<AgreedCriterion, 'disease' | 'population'>;
  comparator: string;
  typed: { text: string; unit: UnitCode };
  /** the same criterion for these diseases as well */
  also: Disease[];
  reason: string;
  /** who of the clinic has read the source of an unchecked number */
  read: { role: string; date: string; locator: string };
}

/** Which form it was begun in. */
export interface FormPlace {
  decision: string;
  measure: string;
  /** the published criterion that it starts from, the agreed one that it changes, or nothing */
  from: string;
}

type Begun = FormPlace & { fields: Fields };

const key = 'tidemark:criteria-begun';

const all = (): Begun[] => {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(list) ? list : [];
  } catch {
    return [];
  }
};

const isAt = (place: FormPlace) => (one: FormPlace) =>
  one.decision === place.decision && one.measure === place.measure && one.from === place.from;

/** The forms begun for one decision, or for all. */
export const begunFor = (decision?: string): Begun[] =>
  all().filter((one) => decision === undefined || one.decision === decision);

export const readBegun = (place: FormPlace): Fields | undefined => all().find(isAt(place))?.fields;

/** Once it was added or cancelled, there is nothing to keep. */
export function writeBegun(place: FormPlace, fields: Fields | undefined): void {
  const here = isAt(place);
  const others = all().filter((one) => !here(one));
  write(fields === undefined ? others : [...others, { ...place, fields }]);
}

export const forgetBegun = (): void => write([]);

function write(list: readonly Begun[]): void {
  try {
    if (list.length === 0) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(list));
  } catch {
    // A browser that keeps nothing: it lasts as long as the form.
  }
}
