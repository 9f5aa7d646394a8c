/**
 * A sentence from data whose numbers come from the marks and facts: '{mark:id}' and '{fact:id}' are replaced by their words.
 * A number from memory says so.
 */
import { comparison, factWords } from '../calculators/evaluate/say.ts';
import type { Standing } from '../calculators/standing.ts';
import { criteria, facts, measures, need } from './evidence.ts';

export const told = (text: string): string =>
  text.replace(/\{(mark|fact):([a-z0-9-]+)\}/g, (_, kind: string, id: string) => {
    const unread = ({ standing }: { standing: Standing }) => (standing === 'from-memory' ? ' (not yet checked)' : '');
    if (kind === 'fact') {
      const fact = need(facts, id, 'facts.yaml');
      return factWords(fact) + unread(fact);
    }
    const row = criteria.find((one) => one.id === id);
    if (!row) throw new Error(`No mark "${id}"`);
    return comparison(row, measures[row.measure]) + unread(row);
  });
