/** What every part of an answer needs: the evidence, whose line it is, and what happens when the reader chooses. */
import type { Person } from '../../calculators/domain/person.ts';
import type { Query } from '../../calculators/query/read-query.ts';
import type { Answers, Meaning } from './answers.ts';

export interface Ways {
  chosen: (meaning: Meaning) => void;
  view: (asked: NonNullable<Query>) => HTMLElement;
}

export interface Context extends Answers, Ways {
  base: string;
  person: Person;
}
