/** The times of one service's cough-machine cycle, from content/facts.yaml: what both drawings of the machine are drawn in. */
import { facts, need } from '../../evidence/evidence.ts';
import type { Cycle } from './curves.ts';

const seconds = (id: string): number => {
  const { value, unit } = need(facts, id, 'facts.yaml');
  if (typeof value !== 'number' || unit !== 's') throw new Error(`service-cycle: ${id} is not a time`);
  return value;
};

export const serviceCycle: Cycle = {
  push: seconds('mie-service-in-time'),
  pull: seconds('mie-service-out-time'),
  pause: seconds('mie-service-pause'),
};
