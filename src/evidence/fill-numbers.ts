/**
 * Fills a text of `content/` with the numbers that it names: '{criterion:id}' becomes a criterion's comparison ('below 50 %
 * predicted') and '{fact:id}' a fact with its unit. The texts themselves type no clinical number, so that each number
 * stands in one place, with its source. A number from memory is followed by '(we have not yet checked this number)'.
 */
import { comparison, factWords } from '../../calculators/evaluate/say.ts';
import type { Standing } from '../../calculators/standing.ts';
import { criteria, facts, measures, need } from './evidence.ts';

/** @throws where no criterion or fact has the id, which stops the build */
export const fillNumbers = (text: string): string =>
  text.replace(/\{(criterion|fact):([a-z0-9-]+)\}/g, (_, kind: string, id: string) => {
    const unread = ({ standing }: { standing: Standing }) =>
      standing === 'from-memory' ? ' (we have not yet checked this number)' : '';
    if (kind === 'fact') {
      const fact = need(facts, id, 'facts.yaml');
      return factWords(fact) + unread(fact);
    }
    const row = criteria.find((one) => one.id === id);
    if (!row) throw new Error(`No criterion "${id}"`);
    return comparison(row, measures[row.measure]) + unread(row);
  });
