/** One reading in hand, held against every mark that it can speak to: what is crossed, by whose rule, and what else that rule asks. */

import type { Person } from '../domain/person.ts';
import type { Reading } from '../domain/visit.ts';
import { type Evidence, evaluate, type Finding, type Part } from './evaluate.ts';
import { type Category, categoryOf } from './group.ts';

export interface Held {
  finding: Finding;
  /** the part that this reading decides */
  part: Part;
  category: Category;
  /** other things the rule asks, not told by this reading */
  open: string[];
}

export interface HeldReading {
  crossed: Held[];
  notCrossed: Held[];
  /** the reading cannot be told from: taken on oxygen, lying down, exactly at a mark that says nothing about equality */
  cannotTell: Held[];
}

const categoryOrder: Record<Category, number> = { acting: 0, study: 1, unchecked: 2, replaced: 3 };

/** @param person  what is known; marks that a known fact rules out are left out, others stay with their scope named */
export function holdReading(measure: string, reading: Reading, person: Person, evidence: Evidence): HeldReading {
  const held: HeldReading = { crossed: [], notCrossed: [], cannotTell: [] };
  const findings = evaluate({ ...person, readings: { [measure]: reading }, signs: {} }, evidence);
  for (const finding of findings) {
    const part = finding.parts.find(
      (one) => (one.role === 'main' || one.role === 'alternative') && one.reading === reading,
    );
    if (!part) continue;
    const open = finding.missing.filter((id) => id !== part.measure);
    const entry: Held = { finding, part, category: categoryOf(finding.criterion), open };
    if (part.truth === 'met') held.crossed.push(entry);
    else if (part.truth === 'not-met') held.notCrossed.push(entry);
    else held.cannotTell.push(entry);
  }
  for (const list of Object.values(held))
    list.sort(
      (a: Held, b: Held) => categoryOrder[a.category] - categoryOrder[b.category] || a.open.length - b.open.length,
    );
  return held;
}
