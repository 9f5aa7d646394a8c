/** The visit sheet's acts, one by one. The screen and the storage around them are held by tests/site/visit*.test.ts. */
import { describe, expect, test } from 'vitest';
import type { Person } from '../../calculators/domain/person.ts';
import type { KeptVisit, Series } from '../../calculators/visit/series.ts';
import { type Entries, noEntries } from '../../src/islands/visit/entries.ts';
import { keepVisit } from '../../src/islands/visit/kept.ts';
import { emptySheet, reduce, type SheetAction, type SheetState } from '../../src/islands/visit/sheet-state.ts';

const today = '2026-11-29';

/** Anything that an act changed in place would throw. */
function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

const entriesOn = (date: string, entries: Partial<Entries> = {}): Entries => ({ ...noEntries(), date, ...entries });
const saturation = (text: string): Partial<Entries> => ({ readings: { spo2: { text, unit: '%' } } });
const visitOn = (date: string, text: string, person: Pick<Person, 'ageYears' | 'heightCm'> = {}): KeptVisit =>
  keepVisit(person, entriesOn(date, saturation(text)));
const sheet = (state: Partial<SheetState> = {}): SheetState => frozen({ ...emptySheet(), ...state });
const act = (state: SheetState, ...actions: SheetAction[]): SheetState =>
  actions.reduce((now, action) => frozen(reduce(now, frozen(action))), state);
const dates = ({ earlier }: SheetState): string[] => earlier.map(({ date }) => date);
const file = (person: Series['person'], ...visits: KeptVisit[]): Series => ({
  format: 'tidemark-visits',
  version: 1,
  person,
  visits,
});
const open = (about: 'same' | 'another', series: Series): SheetAction => ({ type: 'open file', series, about, today });

/** Names of the parts that are another object than before: those are written to storage. */
const replaced = (before: SheetState, after: SheetState): string[] =>
  (['person', 'entries', 'earlier'] as const).filter((part) => after[part] !== before[part]);

describe('load', () => {
  const nothing: SheetAction = { type: 'load', person: {}, entries: undefined, earlier: [], today };

  test('with nothing stored, as for the next person, leaves nothing of the last one', () => {
    const before = sheet({
      person: { disease: 'als', ageYears: 58 },
      typed: { age: { text: '58', unit: 'a' }, height: { text: '5.8', unit: '[ft_i]' } },
      entries: entriesOn('2026-11-01', { ...saturation('91'), leadWeeks: '6', asked: 'NIV?' }),
      earlier: [visitOn('2026-08-01', '95')],
    });
    expect(act(before, nothing)).toEqual({ ...emptySheet(), entries: entriesOn(today) });
  });

  test('puts back what is stored, with its own date, and fills in what an earlier build did not store', () => {
    const { leadWeeks: _, card: __, ...stored } = entriesOn('2026-11-01', saturation('91'));
    const after = act(sheet(), {
      ...nothing,
      person: { ageYears: 58, heightCm: 171.5 },
      entries: stored,
      earlier: [visitOn('2026-08-01', '95')],
    });
    expect(after.entries).toEqual(entriesOn('2026-11-01', saturation('91')));
    expect(after.typed).toEqual({ age: { text: '58', unit: 'a' }, height: { text: '171.5', unit: 'cm' } });
    expect(dates(after)).toEqual(['2026-08-01']);
  });

  test('of the person alone leaves what is being typed', () => {
    const before = sheet({ typed: { age: { text: '4', unit: 'a' }, height: { text: '', unit: 'cm' } } });
    const after = act(before, { type: 'load person', person: { disease: 'als', ageYears: 58 } });
    expect(after).toEqual({ ...before, person: { disease: 'als', ageYears: 58 } });
  });
});

describe('the person', () => {
  test('a fact is added beside the others, and one taken back has no key left', () => {
    const before = sheet({ person: { disease: 'als', sex: 'male' } });
    const changed = act(before, { type: 'change person', changes: { disease: 'sma' } });
    expect(changed.person).toEqual({ disease: 'sma', sex: 'male' });
    expect(replaced(before, changed)).toEqual(['person']);
    const back = act(changed, { type: 'change person', changes: { disease: undefined } });
    expect(Object.keys(back.person)).toEqual(['sex']);
  });

  test('an age counts once its field is left, in years whatever its unit', () => {
    const typing = act(sheet(), { type: 'type person', field: 'age', value: { text: '18', unit: 'mo' } });
    expect(typing.person).toEqual({});
    const left = act(typing, { type: 'leave person field' });
    expect(left.person).toEqual({ ageYears: 1.5 });
    expect(left.typed.age).toEqual({ text: '18', unit: 'mo' });
  });

  test.each(['', '450', 'old', '-3'])('the age %j is no age: it stays in its field, and the fact goes', (text) => {
    const before = sheet({ person: { ageYears: 45, sex: 'female' } });
    const after = act(
      before,
      { type: 'type person', field: 'age', value: { text, unit: 'a' } },
      { type: 'leave person field' },
    );
    expect(after.typed.age.text).toBe(text);
    expect(Object.keys(after.person)).toEqual(['sex']);
  });

  test('a height in feet is stored in centimetres', () => {
    const after = act(
      sheet(),
      { type: 'type person', field: 'height', value: { text: '5', unit: '[ft_i]' } },
      { type: 'leave person field' },
    );
    expect(after.person.heightCm).toBeCloseTo(152.4, 6);
  });
});

describe('entries', () => {
  test('a change replaces the entries alone, and in them what it names', () => {
    const before = sheet({ entries: entriesOn(today, { ...saturation('91'), asked: 'NIV?' }) });
    const after = act(before, { type: 'change entries', changes: saturation('93') });
    expect(after.entries).toEqual({ ...before.entries, ...saturation('93') });
    expect(replaced(before, after)).toEqual(['entries']);
  });

  test('the reference set of the agreement is taken, and nothing else with it', () => {
    const before = sheet({ entries: entriesOn(today), earlier: [visitOn('2026-08-01', '95')] });
    const after = act(before, { type: 'use reference set', prediction: { set: 'gli-2012', group: 'caucasian' } });
    expect(after).toEqual({
      ...before,
      entries: entriesOn(today, { prediction: { set: 'gli-2012', group: 'caucasian' } }),
    });
  });
});

describe('show a visit', () => {
  const before = sheet({
    person: { disease: 'als', ageYears: 58, heightCm: 170 },
    entries: entriesOn('2026-11-01', { ...saturation('91'), leadWeeks: '6' }),
    earlier: [visitOn('2026-05-01', '97', { ageYears: 57, heightCm: 169 }), visitOn('2026-08-01', '95')],
  });
  const after = act(before, { type: 'show visit', date: '2026-05-01' });

  test('it goes on the sheet with the age and height of its day; the visit that was there goes beside it', () => {
    expect(after.entries.date).toBe('2026-05-01');
    expect(after.entries.readings.spo2?.text).toBe('97');
    expect(after.person).toEqual({ disease: 'als', ageYears: 57, heightCm: 169 });
    expect(after.typed.age.text).toBe('57');
    expect(dates(after)).toEqual(['2026-08-01', '2026-11-01']);
    expect(after.earlier[1]).toEqual(keepVisit(before.person, before.entries));
    expect(replaced(before, after)).toEqual(['person', 'entries', 'earlier']);
  });

  test('the weeks to a support stay: they are of the clinic', () => expect(after.entries.leadWeeks).toBe('6'));

  test('and back again leaves both visits as they were', () => {
    const back = act(after, { type: 'show visit', date: '2026-11-01' });
    expect(back.entries).toEqual(before.entries);
    expect(back.earlier).toEqual(before.earlier);
    expect(back.person).toEqual(before.person);
  });

  test('one that was stored without age and height has those on the sheet', () => {
    expect(act(before, { type: 'show visit', date: '2026-08-01' }).person).toEqual(before.person);
  });

  test('a sheet that nothing was entered on is not kept', () => {
    const empty = sheet({ ...before, entries: entriesOn('2026-11-01') });
    expect(dates(act(empty, { type: 'show visit', date: '2026-05-01' }))).toEqual(['2026-08-01']);
  });

  test('a day without a visit changes nothing', () => {
    expect(act(before, { type: 'show visit', date: '2026-05-02' })).toBe(before);
  });
});

describe('begin a visit', () => {
  const plan = (what: string, state: 'ordered' | 'CO2 re-checked') => ({ what, owner: '', due: '', state });
  const before = sheet({
    person: { disease: 'als', ageYears: 58 },
    typed: { age: { text: '5', unit: 'a' }, height: { text: '', unit: 'cm' } },
    entries: entriesOn('2026-11-01', {
      ...saturation('91'),
      prediction: { set: 'gli-2012', group: 'caucasian' },
      plan: [plan('Blood gas', 'ordered'), plan('Mask', 'CO2 re-checked'), plan(' ', 'ordered')],
    }),
  });

  test('the visit on the sheet becomes an earlier one; its reference set and what is not finished carry over', () => {
    const after = act(before, { type: 'begin visit', today });
    expect(dates(after)).toEqual(['2026-11-01']);
    expect(after.entries).toEqual(
      entriesOn(today, {
        prediction: { set: 'gli-2012', group: 'caucasian' },
        plan: [plan('Blood gas', 'ordered')],
      }),
    );
    expect(after.person).toEqual(before.person);
    expect(after.typed.age.text).toBe('58');
  });

  test('where there is a visit of today, that one goes on the sheet', () => {
    const after = act(sheet({ ...before, earlier: [visitOn(today, '88')] }), { type: 'begin visit', today });
    expect(after.entries.readings.spo2?.text).toBe('88');
    expect(dates(after)).toEqual(['2026-11-01']);
  });

  test('nothing is carried back from a later visit', () => {
    const later = sheet({ ...before, entries: { ...before.entries, date: '2026-12-24' } });
    const after = act(later, { type: 'begin visit', today });
    expect(after.entries).toEqual(entriesOn(today));
    expect(dates(after)).toEqual(['2026-12-24']);
  });
});

describe('open a file about the same person', () => {
  const untouched = sheet({
    person: { ageYears: 58 },
    entries: entriesOn(today),
    earlier: [visitOn('2026-08-01', '95')],
  });

  test('its visits join the earlier ones in order, and an empty sheet of the day goes on', () => {
    const after = act(untouched, open('same', file({ disease: 'als' }, visitOn('2026-05-01', '97'))));
    expect(dates(after)).toEqual(['2026-05-01', '2026-08-01']);
    expect(after.entries).toEqual(entriesOn(today));
  });

  test('facts on the sheet stand, and the file adds those that are not known; its label is no fact', () => {
    const facts = file({ label: 'Case A', disease: 'als', ageYears: 61, heightCm: 170 }, visitOn('2026-05-01', '97'));
    expect(act(untouched, open('same', facts)).person).toEqual({ disease: 'als', ageYears: 58, heightCm: 170 });
  });

  test('a fact that was taken back on the sheet comes from the file', () => {
    const taken = act(
      untouched,
      { type: 'type person', field: 'age', value: { text: '', unit: 'a' } },
      { type: 'leave person field' },
    );
    const after = act(taken, open('same', file({ ageYears: 61 }, visitOn('2026-05-01', '97'))));
    expect(after.person).toEqual({ ageYears: 61 });
    expect(after.typed.age.text).toBe('61');
  });

  test('a visit of the sheet\u2019s day goes on the sheet', () => {
    const after = act(untouched, open('same', file({}, visitOn(today, '88', { ageYears: 57 }))));
    expect(after.entries.readings.spo2?.text).toBe('88');
    expect(after.person.ageYears).toBe(57);
    expect(dates(after)).toEqual(['2026-08-01']);
  });

  test('what was entered on the sheet stands, over a visit of the same day too, and is not written again', () => {
    const touched = sheet({ ...untouched, entries: entriesOn(today, saturation('91')) });
    const after = act(
      touched,
      open('same', file({ disease: 'als' }, visitOn('2026-05-01', '97'), visitOn(today, '88'))),
    );
    expect(after.entries).toBe(touched.entries);
    expect(dates(after)).toEqual(['2026-05-01', '2026-08-01']);
    expect(after.person).toEqual({ disease: 'als', ageYears: 58 });
    expect(replaced(touched, after)).toEqual(['person', 'earlier']);
  });

  test('of two visits of one day the one beside the sheet stands', () => {
    const after = act(untouched, open('same', file({}, visitOn('2026-08-01', '80'))));
    expect(after.earlier.map(({ readings }) => readings.spo2?.text)).toEqual(['95']);
  });
});

describe('open a file about another person', () => {
  const before = sheet({
    person: { disease: 'als', ageYears: 58, sex: 'male' },
    entries: entriesOn('2026-11-01', { ...saturation('91'), leadWeeks: '6', asked: 'NIV?', wishes: ['everything'] }),
    earlier: [visitOn('2026-08-01', '95')],
  });

  test('nothing of the person on the sheet stays but the day of the visit', () => {
    const after = act(before, open('another', file({ label: 'Case B', disease: 'sma' }, visitOn('2026-05-01', '97'))));
    expect(after).toEqual({
      person: { disease: 'sma' },
      typed: emptySheet().typed,
      entries: entriesOn('2026-11-01'),
      earlier: [visitOn('2026-05-01', '97')],
    });
  });

  test('without a day on the sheet it is today', () => {
    const undated = sheet({ ...before, entries: { ...before.entries, date: '' } });
    const after = act(undated, open('another', file({}, visitOn(today, '88'))));
    expect(after.entries.date).toBe(today);
    expect(after.entries.readings.spo2?.text).toBe('88');
    expect(after.earlier).toEqual([]);
  });

  test('visits of the file are put in order', () => {
    const after = act(before, open('another', file({}, visitOn('2026-09-01', '96'), visitOn('2026-05-01', '97'))));
    expect(dates(after)).toEqual(['2026-05-01', '2026-09-01']);
  });
});

describe('the page goes away while an age is typed', () => {
  const load = (typed?: { age: string }) =>
    act(emptySheet(), {
      type: 'load',
      person: { disease: 'als' },
      entries: undefined,
      earlier: [],
      typed: typed && { age: { text: typed.age, unit: 'a' }, height: { text: '1.76', unit: 'm' } },
      today,
    });
  test('what was typed is in its field again, and counts: nobody is in the field any more', () => {
    const after = load({ age: '61' });
    expect(after.typed.age.text).toBe('61');
    expect(after.person).toEqual({ disease: 'als', ageYears: 61, heightCm: 176 });
  });
  test('a number that no age can be stays in the field and out of the facts', () => {
    const after = load({ age: '610' });
    expect([after.typed.age.text, after.person.ageYears]).toEqual(['610', undefined]);
  });
  test('with nothing typed the facts are what was stored', () => {
    expect(load().person).toEqual({ disease: 'als' });
  });
});
