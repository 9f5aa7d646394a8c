/** Sources, facts and terms: named, placed and honest about how well they are known. */
import { describe, expect, test } from 'vitest';
import { readCriteria, readFacts, readGlossary, readMeasures, readSources } from '../read-content.ts';

const sources = Object.entries(readSources());
const facts = Object.entries(readFacts());
const terms = Object.entries(readGlossary());

describe('sources', () => {
  test('each has a short name of its own, for the label of a criterion', () => {
    const names = sources.map(([, { short }]) => short);
    expect(names.filter((name, place) => names.indexOf(name) !== place)).toEqual([]);
    expect(sources.filter(([id, { short }]) => short === id).map(([id]) => id)).toEqual([]);
    expect(names.filter((name) => name.length > 36)).toEqual([]);
  });
  test('a source that was read has a date, and one that was not has none', () => {
    const wrong = sources.filter(
      ([, { read, checked }]) =>
        /^This (source was not read|is not a published source)/.test(read) === (checked !== undefined),
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  test('one that was replaced says so in its short name', () => {
    const silent = sources.filter(
      ([, { short, supersededBy }]) => (supersededBy !== undefined) !== /\(old\)$/.test(short),
    );
    expect(silent.map(([id]) => id)).toEqual([]);
  });
  test('a year is a year', () => {
    expect(
      sources.filter(([, { year }]) => year !== undefined && (year < 1950 || year > 2026)).map(([id]) => id),
    ).toEqual([]);
  });
  test('rows of a payer rest on a policy, and a policy holds nothing but such rows', () => {
    const kind = new Map(sources.map(([id, source]) => [id, source.kind]));
    expect(
      readCriteria()
        .filter(({ use, source }) => (use === 'coverage') !== (kind.get(source) === 'policy'))
        .map(({ id }) => id),
    ).toEqual([]);
  });
});

describe('facts', () => {
  test('each names a source that is described, or none', () => {
    const known = new Set(sources.map(([id]) => id));
    expect(facts.filter(([, { source }]) => source !== undefined && !known.has(source)).map(([id]) => id)).toEqual([]);
  });
  test('a number that was read has a source or a place, and the date of reading; memory and practice have no date', () => {
    const wrong = facts.filter(([, { standing, checked }]) =>
      standing === 'checked' || standing === 'checked-in-summary' ? checked === undefined : checked !== undefined,
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
    expect(
      facts.filter(([, { standing, source }]) => standing === 'checked' && source === undefined).map(([id]) => id),
    ).toEqual([]);
  });
  test('a number has a unit, a text has none, and a span goes upwards', () => {
    const wrong = facts.filter(
      ([, { value, unit }]) =>
        (typeof value === 'string') === (unit !== undefined) || (Array.isArray(value) && value[0] >= value[1]),
    );
    expect(wrong.map(([id]) => id)).toEqual([]);
  });
  /** Habits that stay printed although no publication carries them, each with its reason. Anything else goes, or finds a source. */
  const printedPractice: Record<string, string> = {
    'co2-raised-awake':
      'a call the same day; NICE prints the same figure for ALS, and the page says that it is carried over',
    'co2-raised-seen':
      'how soon that call leads to a visit; NICE prints one week for ALS, and the page says that it is carried over',
    'snip-tries':
      'how often a sniff is repeated: too few make a person look weaker than they are, and nobody is judged by it',
  };
  test('common practice is printed as a value for no other reason than these', () => {
    const practice = facts.filter(([, { standing }]) => standing === 'common-practice').map(([id]) => id);
    expect(practice.toSorted()).toEqual(Object.keys(printedPractice).toSorted());
  });
  test('what a fact says does not repeat its own number', () => {
    const repeated = facts.filter(
      ([, { says, value }]) => typeof value === 'number' && new RegExp(`(^|[^\\d.])${value}([^\\d.]|$)`).test(says),
    );
    expect(repeated.map(([id]) => id)).toEqual([]);
  });
});

describe('glossary', () => {
  test('no two entries explain the same term', () => {
    const names = terms.map(([, { term }]) => term.toLowerCase());
    expect(names.filter((name, place) => names.indexOf(name) !== place)).toEqual([]);
  });
  test('a term that is a measure names one that exists', () => {
    const measures = readMeasures();
    expect(terms.filter(([, { measure }]) => measure !== undefined && !measures[measure]).map(([id]) => id)).toEqual(
      [],
    );
  });
  test('a meaning is one to four sentences', () => {
    const long = terms.filter(
      ([, { meaning }]) => (meaning.match(/[.?!](\s|$)/g) ?? []).length > 4 || !/[.?!]$/.test(meaning),
    );
    expect(long.map(([id]) => id)).toEqual([]);
  });
  test('the shared words of the trade are all there', () => {
    const wanted = [
      'fvc',
      'snip',
      'mip',
      'mep',
      'peak-cough-flow',
      'niv',
      'ipap',
      'epap',
      'back-up-rate',
      'mi-e',
      'lung-volume-recruitment',
      'hypoventilation',
      'hypercapnia',
      'paco2',
      'orthopnoea',
      'bulbar',
      'leak',
      'trigger',
      'ahi',
      'rem-sleep',
      'btps',
      'z-score',
      'lower-limit-of-normal',
      'percent-predicted',
    ];
    expect(wanted.filter((id) => !terms.some(([term]) => term === id))).toEqual([]);
  });
});
