/**
 * Every question with the answer that is abnormal, every condition beside a threshold as it is printed, and every act:
 * held as one text in questions-and-answers.snapshot.md. A change of any sentence shows there, to be read by eye before
 * it is committed (`npx vitest run --config tests/vitest.config.ts tests/content/questions-and-answers.test.ts -u`).
 */
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Condition, type Criterion, isEvaluated } from '../../calculators/domain/criterion.ts';
import { diseases } from '../../calculators/domain/diseases.ts';
import type { SignMeasure } from '../../calculators/domain/measure.ts';
import { askedTogether } from '../../calculators/evaluate/asked-together.ts';
import { alsoWords, comparison, nameWithValue } from '../../calculators/evaluate/say.ts';
import { readCriteria, readMeasures } from '../read-content.ts';

const measures = readMeasures();
const criteria = readCriteria();
const signs = Object.entries(measures).filter((entry): entry is [string, SignMeasure] => entry[1].kind === 'sign');
const isUrgent = ({ urgency }: Criterion): boolean => urgency === 'emergency' || urgency === 'same-day';
const urgent = criteria.filter(isUrgent);
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

const answers = { yes: 'Yes = abnormal', no: 'No = abnormal', neither: 'neither answer is abnormal' };

test('every sentence is the one that was read by eye', async () => {
  const asked = signs.map(([id, { question, abnormal, when }]) =>
    [
      `- ${question} **${answers[abnormal]}** (${id})`,
      ...(when ? [`  - yes: ${when.present}`, `  - no: ${when.absent}`] : []),
    ].join('\n'),
  );
  const conditions = criteria
    .filter(({ alternative, alsoRequires }) => alternative || alsoRequires.length > 0)
    .map((row) => {
      const measure = measures[row.measure];
      return [
        `- ${nameWithValue(measure, row.measure)} ${comparison(row, measure).trim() || '(no number)'} (${row.id})`,
        ...alsoWords(row, measures).map((words) => `  - ${words}`),
      ].join('\n');
    });
  const acts = new Map<string, string[]>();
  for (const { act, urgency, urgentPage, id } of criteria)
    if (act !== undefined) {
      const line = `${urgency}: ${act} -> ${urgentPage}`;
      acts.set(line, [...(acts.get(line) ?? []), id]);
    }
  const written = [
    '# Questions, conditions and acts, as they are printed',
    'Written by questions-and-answers.test.ts. Read every changed line by eye: is it the right way round?',
    '## Questions',
    asked.join('\n'),
    '## Conditions beside a threshold',
    conditions.join('\n'),
    '## What is asked for first',
    [...acts]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([line, ids]) => `- ${line}\n  - ${ids.join(', ')}`)
      .join('\n'),
  ].join('\n\n');
  await expect(`${plain(written)}\n`).toMatchFileSnapshot('./questions-and-answers.snapshot.md');
});

describe('questions', () => {
  test('each is one question, which yes or no answers', () => {
    for (const [id, { question }] of signs) {
      expect([id, question.endsWith('?'), question.slice(0, -1).includes('?')]).toEqual([id, true, false]);
    }
  });

  test('none asks for a choice of two, which yes or no cannot answer', () => {
    // 'Can you bring secretions up by coughing, or do they stay?' was once answered Yes and recorded an ineffective cough.
    const choices = signs.filter(([, { question }]) => /^(Can|Could) you\b.*\bor\b/.test(question));
    expect(choices.map(([id]) => id)).toEqual([]);
  });

  test('a whole has the abnormal answer of what it is made of', () => {
    const wrong = signs.flatMap(([id, { abnormal, anyOf = [], allOf = [] }]) =>
      [...anyOf, ...allOf].flatMap((part) => {
        const of = measures[part];
        if (of?.kind !== 'sign' || abnormal === 'neither' || of.abnormal === 'neither') return [];
        return of.abnormal === abnormal ? [] : [`${id}: ${part}`];
      }),
    );
    // Raised at night and normal by day: the second part is the healthy one, and the whole says so.
    expect(wrong).toEqual(['nocturnal-hypercapnia-with-daytime-normocapnia: daytime-normocapnia']);
  });

  test('a sign that an urgent criterion needs is abnormal by the answer that meets it', () => {
    const wrong = urgent.flatMap(({ id, measure, comparator }) => {
      const sign = measures[measure];
      if (sign?.kind !== 'sign') return [];
      return (comparator === 'present') === (sign.abnormal === 'yes') ? [] : [`${id}: ${measure}`];
    });
    expect(wrong).toEqual([]);
  });
});

describe('answers as clauses', () => {
  const conditionsOf = criteria.flatMap((row) => [
    ...(isEvaluated(row) ? [row as unknown as Condition] : []),
    ...(row.alternative ? [row.alternative] : []),
    ...row.alsoRequires.flatMap((part) =>
      'anyOf' in part ? part.anyOf.map((measure) => ({ measure, comparator: 'present' }) as Condition) : [part],
    ),
  ]);

  test('every sign that a criterion names has its two clauses', () => {
    const without = conditionsOf.filter(({ measure }) => {
      const sign = measures[measure];
      return sign?.kind === 'sign' && sign.when === undefined;
    });
    expect([...new Set(without.map(({ measure }) => measure))]).toEqual([]);
  });

  test('so has every sign that a reading or a support can answer, for the sentence that names a contradiction', () => {
    const derived = ['already-on-niv', 'daytime-oxygen-without-ventilation', 'nocturnal-oxygen-without-niv'];
    const without = signs.filter(
      ([id, { impliedBy, when }]) => (impliedBy.length > 0 || derived.includes(id)) && when === undefined,
    );
    expect(without.map(([id]) => id)).toEqual([]);
  });

  test('the two are different, begin inside a sentence and end without a stop', () => {
    for (const [id, { when }] of signs) {
      if (!when) continue;
      expect([id, when.present === when.absent]).toEqual([id, false]);
      for (const clause of [when.present, when.absent]) {
        expect([id, clause]).toEqual([id, expect.not.stringMatching(/[.?!;:]$|^(if|unless|when|only)\b/i)]);
        // A name keeps its capital: CO2, NIV, COPD.
        expect([id, clause]).toEqual([id, expect.stringMatching(/^([a-z]|CO2|NIV|COPD)/)]);
        expect(clause.split(' ').length).toBeLessThanOrEqual(22);
      }
    }
  });

  test('one of the two is denied, never both: neither reads like the other', () => {
    const denies = (clause: string) => /\b(no|not|neither|without|never)\b/.test(clause);
    // Said with two words that are opposites.
    const opposites = [
      'ineffective-cough',
      'non-ambulant',
      'bulbar-function-preserved',
      'persistent-hypoventilation-or-uncontrolled-secretions-on-niv',
      'ineffective-triggering',
      'airway-blocked-by-secretions-not-cleared',
      'weak-or-ineffective-cough',
      'reduced-lung-function-or-ineffective-cough',
    ];
    const odd = signs.filter(([id, { when }]) => when && !opposites.includes(id) && !denies(when.absent));
    expect(odd.map(([id, { when }]) => `${id}: ${when?.absent}`)).toEqual([]);
  });
});

describe('conditions beside a threshold', () => {
  const printed = criteria.flatMap((row) =>
    alsoWords(row, measures).map((words) => ({ id: row.id, words: plain(words) })),
  );

  test('each begins with only, or, or unless, and carries its value or its clause', () => {
    expect(printed.length).toBeGreaterThan(60);
    for (const { id, words } of printed)
      expect([id, words]).toEqual([id, expect.stringMatching(/^(only if |only with .* \d|or .|unless )/)]);
  });

  test('none is without polarity: no bare name of a sign, no "present" and no "absent"', () => {
    for (const { id, words } of printed)
      expect([id, words]).toEqual([id, expect.not.stringMatching(/: (present|absent)$|\b(present|absent)$/)]);
  });

  test('a number in it has a side and a unit', () => {
    for (const row of criteria)
      for (const part of [...(row.alternative ? [row.alternative] : []), ...row.alsoRequires]) {
        if ('anyOf' in part || part.value === undefined) continue;
        const words = plain(alsoWords({ alternative: undefined, alsoRequires: [part] }, measures)[0] ?? '');
        expect([row.id, words]).toEqual([
          row.id,
          expect.stringMatching(/\b(below|above|at or below|at or above|less than|more than|at most|at least) [\d.]+/),
        ]);
      }
  });

  test('an exception that nobody was asked about says unless, and its note is about the answer that ends it', () => {
    const exceptions = criteria.flatMap((row) =>
      row.alsoRequires.flatMap((part) =>
        'anyOf' in part || part.unanswered === undefined ? [] : [{ id: row.id, part }],
      ),
    );
    expect(exceptions.length).toBeGreaterThan(5);
    for (const { id, part } of exceptions) expect([id, part.note]).toEqual([id, expect.stringMatching(/^unless /)]);
    // Only an exception begins so.
    const others = criteria.flatMap((row) =>
      row.alsoRequires.flatMap((part) =>
        'anyOf' in part || part.unanswered !== undefined || !part.note?.startsWith('unless') ? [] : [row.id],
      ),
    );
    expect(others).toEqual([]);
  });
});

describe('acts', () => {
  test('every emergency and same-day criterion has one: an imperative of at most 12 words', () => {
    expect(urgent.length).toBeGreaterThan(25);
    for (const { id, act = '' } of urgent) {
      expect([id, act]).toEqual([id, expect.stringMatching(/^[A-Z].*\.$/)]);
      expect([id, act.split(/\s+/).length <= 12]).toEqual([id, true]);
      expect([id, act]).toEqual([id, expect.stringMatching(/^(Call|Ventilate|Follow)\b/)]);
    }
  });

  test('nothing else has one', () => {
    const others = criteria.filter(
      ({ act, urgency }) => act !== undefined && !['emergency', 'same-day'].includes(urgency),
    );
    expect(others.map(({ id }) => id)).toEqual([]);
  });

  test('an emergency calls for help now, a same-day criterion does not send for an ambulance', () => {
    for (const { id, urgency, act = '' } of urgent)
      if (urgency === 'emergency')
        expect([id, act]).toEqual([id, expect.stringMatching(/emergency number|critical care/i)]);
      else {
        expect([id, act]).toEqual([id, expect.stringMatching(/today/)]);
        expect([id, act]).toEqual([id, expect.not.stringMatching(/emergency number/i)]);
      }
  });

  test('none names a dose, a setting or a number', () => {
    for (const { id, act = '' } of criteria)
      expect([id, act]).toEqual([
        id,
        expect.not.stringMatching(
          /\d|\b(mg|mL|litres?|flow|pressure|IPAP|EPAP|cmH2O|rate|dose|turn (up|down)|increase|decrease|raise|lower|give|oxygen|neostigmine|opioid|antibiotic)\b/i,
        ),
      ]);
  });

  test('each leads to a page of this handbook that says what to do', () => {
    for (const { id, urgentPage = '' } of urgent) {
      expect([id, urgentPage]).toEqual([id, expect.stringMatching(/^\/[a-z0-9/-]+\/$/)]);
      expect([id, urgentPage, existsSync(`content/handbook${urgentPage.slice(0, -1)}.mdx`)]).toEqual([
        id,
        urgentPage,
        true,
      ]);
    }
  });
});

describe('questions that one tap answers with no', () => {
  const together = askedTogether(
    signs.map(([id]) => id),
    measures,
    criteria,
  );

  test('there are some, and each has a healthy no', () => {
    expect(together.length).toBeGreaterThan(15);
    for (const id of together) expect([id, (measures[id] as SignMeasure).abnormal]).toEqual([id, 'yes']);
  });

  // One of several signs that are needed together, as a weak cough in an infection, is no emergency by itself.
  const urgentParts = (id: string): string[] => {
    const measure = measures[id];
    return measure?.kind === 'sign' ? [id, ...(measure.anyOf ?? []).flatMap(urgentParts)] : [];
  };
  const signsOf = (rows: readonly Criterion[]) =>
    new Set(
      rows.flatMap(({ measure, alternative, alsoRequires }) => [
        ...urgentParts(measure),
        ...(alternative?.comparator === 'present' ? urgentParts(alternative.measure) : []),
        ...alsoRequires.flatMap((part) =>
          'anyOf' in part
            ? part.anyOf.flatMap(urgentParts)
            : part.comparator === 'present'
              ? urgentParts(part.measure)
              : [],
        ),
      ]),
    );

  test('none is a sign of an emergency or of a call today, whole or part', () => {
    const anyDisease = signsOf(urgent.filter(({ disease }) => disease === 'any'));
    expect(anyDisease.size).toBeGreaterThan(20);
    expect(together.filter((id) => anyDisease.has(id))).toEqual([]);
  });

  test.each(diseases)('nor, once %s is known, one of that disease', (disease) => {
    const rows = criteria.filter((row) => row.disease === 'any' || row.disease === disease);
    const asked = askedTogether(
      signs.map(([id]) => id),
      measures,
      rows,
    );
    const own = signsOf(rows.filter(isUrgent));
    expect(asked.filter((id) => own.has(id))).toEqual([]);
  });

  test('none is a payer\u2019s question, a wish or a support', () => {
    const payer = new Set(
      criteria
        .filter(({ use }) => use === 'coverage')
        .flatMap(({ measure, alsoRequires }) => [
          measure,
          ...alsoRequires.flatMap((part) => ('anyOf' in part ? part.anyOf : [part.measure])),
        ]),
    );
    for (const id of together) {
      expect([id, payer.has(id)]).toEqual([id, false]);
      expect(['look', 'wishes', 'support', 'record']).not.toContain(measures[id]?.part);
    }
  });

  test('a sign that is not on the list it was given is not set', () => {
    expect(askedTogether(['orthopnoea'], measures, criteria)).toEqual(['orthopnoea']);
    expect(askedTogether(['hypercapnia', 'fvc-percent', 'no-such-sign'], measures, criteria)).toEqual([]);
  });
});
