/** First aid and emergency wording: what one page says of it, every page says. */
import { globSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readFacts, readGlossary } from '../read-content.ts';

const facts = readFacts();
const pages = globSync('content/handbook/**/*.mdx')
  .sort()
  .map((file) => ({
    id: file.replace('content/handbook/', '').replace('.mdx', ''),
    body: readFileSync(file, 'utf8'),
  }));
/** The bullets, steps and paragraphs of a page, each with what a reader sees. */
const pieces = (body: string): string[] => body.split(/\n\s*(?:[-*]|\d+\.)\s|\n{2,}/);
const seen = (text: string): string =>
  text
    .replace(/<[^>]+>/g, ' ')
    .replace(/\*\*/g, '')
    .replace(/\s+/g, ' ');
const pageOf = (id: string): string => {
  const found = pages.find((page) => page.id === id);
  if (found === undefined) throw new Error(`no page ${id}`);
  return seen(found.body);
};

describe('choking', () => {
  /** A page that tells of thrusts and back blows tells whom they are for. */
  const lacks = (body: string): string[] => {
    const text = seen(body);
    if (!/back blows/i.test(text)) return [];
    return (
      [
        ['babies under one year', /under one year/i],
        ['chest thrusts', /chest thrusts/i],
        ['adults and children over one year', /over one year|gives? chest thrusts|chest thrusts belong/i],
      ] as const
    ).flatMap(([what, words]) => (words.test(text) ? [] : [what]));
  };
  test('a page with adult thrusts alone is seen', () => {
    expect(lacks('Up to five back blows, then up to five abdominal thrusts.')).toEqual([
      'babies under one year',
      'chest thrusts',
      'adults and children over one year',
    ]);
  });
  test.each(pages.filter(({ id }) => !id.startsWith('diseases/')))(
    '$id names babies wherever it names back blows',
    ({ body }) => {
      expect(lacks(body)).toEqual([]);
    },
  );
  test('no line gives abdominal thrusts to a baby', () => {
    const wrong = pages.flatMap(({ id, body }) =>
      pieces(body)
        .map(seen)
        .filter((text) => /\bbab(y|ies)\b|\binfants?\b/i.test(text) && /(?:abdominal|belly) thrusts/i.test(text))
        .filter((text) => !/never (?:give )?(?:abdominal|belly) thrusts/i.test(text))
        .map((text) => `${id}: ${text.slice(0, 80)}`),
    );
    expect(wrong).toEqual([]);
  });
});

describe('oxygen range', () => {
  test('the range itself says that it is for adults', () => {
    expect(facts['acute-oxygen-target']?.after).toMatch(/adults/);
  });
  test.each(pages.filter(({ body }) => body.includes('fact="acute-oxygen-target"')))(
    '$id says what holds for a child',
    ({ body }) => {
      expect(seen(body)).toMatch(/\b(a|A) child\b[^.]*[.:]?[^.]*written plan|child's target is in the written plan/);
    },
  );
  const untilTheGas = pages.filter(({ body }) =>
    /until (?:(?:the )?(?:blood )?gases are|(?:a|the) (?:blood )?gas(?: result)? is) known/i.test(seen(body)),
  );
  test('some page gives a range until the gas is known, in each wording', () => {
    const ids = untilTheGas.map(({ id }) => id);
    expect(ids).toContain('urgent/drowsy-or-grey');
    expect(ids).toContain('oxygen/when-oxygen-has-a-place');
    expect(ids).toContain('learn/oxygens-trap');
  });
  test.each(untilTheGas)('$id says what comes after the gas', ({ body }) => {
    expect(body).toContain('fact="oxygen-target-normal-gas"');
    expect(body).toContain('fact="oxygen-gas-again"');
    expect(seen(body)).toMatch(/never (been )?ventilated/i);
  });
});

describe('a person who does not breathe', () => {
  test.each(pages.filter(({ body }) => /\bnot breathing\b/i.test(seen(body))))(
    '$id says what to tell the call handler, and a rate for the bag',
    ({ body }) => {
      expect(seen(body)).toMatch(/respiratory arrest/i);
      expect(body).toContain('fact="bag-rate-adult"');
      expect(body).toContain('fact="bag-rate-child"');
      expect(seen(body)).toMatch(/chest rise/i);
      expect(seen(body)).toMatch(/\btaught\b/i);
    },
  );
});

describe('limp, grey and plugged', () => {
  const four = [
    'urgent/drowsy-or-grey',
    'urgent/cannot-clear-the-airway',
    'cough/mi-e-session',
    'cough/what-not-to-do',
  ];
  test.each(four)('%s: call, then clear if trained and planned; only food, vomit or no training stops it', (id) => {
    const piece = pageOf(id);
    for (const words of [
      /emergency number/i,
      /by mask/i,
      /if you are trained (to [a-z ]+ )?and (it is in (the|the person's) plan|the person's plan includes it)/i,
      /food or vomit|food, vomit/i,
      /limp/i,
    ])
      expect(piece).toMatch(words);
  });
  test('no page lets a limp person wait for the crew, or forbids clearing for want of a guarded airway', () => {
    const wrong = pages.filter(({ body }) =>
      /(?<!Mistake: waiting[^.]*)wait for the crew(?! to)|protected airway|guarding the airway/i.test(seen(body)),
    );
    expect(wrong.map(({ id }) => id)).toEqual([]);
  });
});

describe('steroids and vomiting', () => {
  test.each(
    pages.filter(
      ({ id, body }) =>
        !id.startsWith('measuring/') && /vomit\w*[^.]{0,60}steroid|steroid[^.]{0,60}vomit/i.test(seen(body)),
    ),
  )('$id names adrenal crisis and files it as an emergency', ({ body }) => {
    const text = seen(body);
    expect(text).toMatch(/adrenal crisis/i);
    expect(text).not.toMatch(/same day:[^.]*vomiting on steroids/i);
  });
  test('no dose is printed', () => {
    expect(pages.filter(({ body }) => /hydrocortisone[^.]{0,30}\d+\s*mg/i.test(body)).map(({ id }) => id)).toEqual([]);
  });
});

describe('other emergencies', () => {
  test('dysreflexia says its level where it is explained', () => {
    expect(readGlossary()['autonomic-dysreflexia']?.meaning).toMatch(/\bT6\b/);
    for (const id of ['diseases/cord-injury', 'breathing/night-ventilation-cord-injury']) {
      expect(pageOf(id)).toMatch(/at T6 or above/);
      expect(pageOf(id)).toMatch(/bladder[^.]*bowel[^.]*skin/i);
    }
  });
  test('a speaking valve over an inflated cuff comes with its act, before the explanation', () => {
    const text = pageOf('breathing/tracheostomy-is-out-of-scope');
    expect(text.indexOf('Take the speaking valve or cap off')).toBeGreaterThan(0);
    expect(text.indexOf('Take the speaking valve or cap off')).toBeLessThan(text.indexOf('cannot breathe out.'));
  });
  test('a new low saturation is an emergency on the page about saturation', () => {
    const body = pages.find(({ id }) => id === 'measuring/saturation')?.body ?? '';
    expect(seen(body)).toMatch(/new saturation .*at rest is an emergency, whatever the person is breathing/);
    expect(seen(body)).not.toMatch(/same-day call at least/);
  });
});
