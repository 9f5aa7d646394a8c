/**
 * A typed line, answered at once. Plain DOM: the text of data and of the reader goes in as text, never as markup. What the
 * line means is read in calculators/query/; here it is only chosen which view shows it.
 */

import type { Agreement } from '../../calculators/agreement/agreement.ts';
import type { Person } from '../../calculators/domain/person.ts';
import { readLine, visitOfReading, visitOfSum } from '../../calculators/query/read-line.ts';
import { type Query, reader, type TopicWords, vocabularyOf } from '../../calculators/query/read-query.ts';
import { inForce } from '../agreement/in-force.ts';
import { agreementChanged } from '../agreement/store.ts';
import { toEvidence } from '../islands/visit/evidence-data.ts';
import type { Answers, Meaning, SearchData } from './answers.ts';
import { askView, hintView } from './ask.ts';
import { cardView } from './card.ts';

/** In milliseconds: the first answer is on the screen by then. */
const afterFirst = 400;

let loading: Promise<Answers> | undefined;

/** Asked for at the same moment as the criteria, which wait for nothing else. */
let asked: Promise<TopicWords[]> | undefined;
function subjectsOf(base: string): Promise<TopicWords[]> {
  asked ??= fetch(`${base}data/subjects.json`).then((response) => response.json());
  asked.catch(() => {
    asked = undefined;
  });
  return asked;
}

/** Fetch the criteria ahead of the first line. */
export function warmAnswers(base: string): Promise<Answers> {
  subjectsOf(base).catch(() => undefined);
  loading ??= Promise.all([fetch(`${base}data/criteria.json`).then((response) => response.json()), inForce()]).then(
    async ([data, agreement]: [SearchData, Agreement | undefined]) => {
      const lines = reader(data.measures, vocabularyOf(data.words));
      let knows = false;
      const subjects = subjectsOf(base).then(
        (known) => {
          lines.learn(known);
          knows = true;
          return true;
        },
        () => false,
      );
      // Where they have come already, they are known before the first line.
      await Promise.race([subjects, new Promise((later) => setTimeout(later))]);
      // A line that is waiting is answered first.
      setTimeout(lines.warm, afterFirst);
      return {
        data,
        evidence: toEvidence(data),
        ...(agreement && (await agreedWith(agreement, data))),
        calculations: data.calculations,
        read: (line: string) => readLine(line, lines, data.calculations),
        topics: lines.topics,
        subjects,
        knowsSubjects: () => knows,
      };
    },
  );
  loading.catch(() => {
    loading = undefined;
  });
  return loading;
}

/** What reads an agreement comes only where there is one. */
async function agreedWith(agreement: Agreement, data: SearchData): Promise<Pick<Answers, 'evidence' | 'agreedLine'>> {
  const [{ withLocal }, { standingLine }] = await Promise.all([
    import('../../calculators/agreement/local-criteria.ts'),
    import('../../calculators/agreement/agreement-words.ts'),
  ]);
  return { evidence: withLocal(toEvidence(data), agreement), agreedLine: standingLine };
}

addEventListener(agreementChanged, () => {
  loading = undefined;
});

/** @param chosen  called with the meaning that the reader picks or changes to */
export function answerView(
  query: NonNullable<Query>,
  person: Person,
  answers: Answers,
  base: string,
  chosen: (meaning: Meaning) => void = () => undefined,
): HTMLElement {
  const view = (asked: NonNullable<Query>): HTMLElement => answerView(asked, person, answers, base, chosen);
  switch (query.kind) {
    case 'reading':
      return cardView(visitOfReading(query), person, answers, base, { chosen, view });
    case 'visit':
      return cardView(query, person, answers, base, { chosen, view });
    case 'sum':
      return cardView(visitOfSum(query), person, answers, base, { chosen, view });
    case 'hint':
      return hintView(query, base);
    case 'ask':
      return askView(query, answers.data, (option) => {
        chosen(option);
        return view(option);
      });
  }
}
