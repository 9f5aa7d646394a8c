/**
 * What was understood, as buttons: who it is, what was breathed, the posture, each sign and support. Each can be changed or
 * taken out, and what is not known is offered.
 */
import { personOfSex, sexOptions } from '../../calculators/domain/age-and-sex.ts';
import { diseaseShort } from '../../calculators/domain/disease-short.ts';
import { type Disease, diseaseNames, diseases } from '../../calculators/domain/diseases.ts';
import type { Person } from '../../calculators/domain/person.ts';
import type { Reading, Sign } from '../../calculators/domain/visit.ts';
import { supportStatusWords } from '../../calculators/domain/visit.ts';
import type { Evidence } from '../../calculators/evaluate/evaluate.ts';
import type { LineAnswer } from '../../calculators/query/answer.ts';
import { lyingDown } from '../../calculators/query/meaning.ts';
import type { AskedVisit } from '../../calculators/query/read-query.ts';
import { make } from '../browser/dom.ts';
import type { EvidenceData } from '../islands/visit/evidence-data.ts';
import { choice, replace } from './choice.ts';

/** Answers the line again with something changed; `inHand` where the person of the visit sheet is to count no longer. */
export type Again = (changed: AskedVisit, inHand?: Person) => void;

type Options = readonly (readonly [string, () => void])[];
type Offer = (words: string, question: string, options: Options) => void;

export function chips(
  asked: AskedVisit,
  answer: LineAnswer,
  { evidence, data, person }: { evidence: Evidence; data: EvidenceData; person: Person },
  again: Again,
): HTMLElement {
  const box = make('div', 'entry chips');
  const offer: Offer = (words, question, options) => {
    const button = make('button', 'fact', words);
    button.type = 'button';
    button.setAttribute('aria-label', `${words}: change`);
    button.addEventListener('click', () =>
      replace(
        box,
        choice(question, options, (pick) => pick()),
      ),
    );
    box.append(button);
  };
  personChips(asked, answer, person, offer, again);
  readingChips(asked, evidence, offer, again);
  signChips(asked, evidence, data, offer, again);
  return box;
}

function personChips(
  asked: AskedVisit,
  { visit, assumed }: LineAnswer,
  inHand: Person,
  offer: Offer,
  again: Again,
): void {
  const mine = (fact: keyof Person) => (assumed.inHand.includes(fact) ? ', from the visit sheet' : '');
  const set = (fact: Partial<Person>) => again({ ...asked, person: { ...asked.person, ...fact } });
  const without = (fact: 'disease' | 'sex' | 'heightCm') => {
    const { [fact]: _inHand, ...others } = inHand;
    const { [fact]: _typed, ...rest } = asked.person;
    again({ ...asked, person: rest }, others);
  };
  offer(visit.disease ? `${diseaseShort[visit.disease]}${mine('disease')}` : 'Disease?', 'Which disease?', [
    ...diseases.map((code: Disease) => [diseaseNames[code], () => set({ disease: code })] as const),
    ['Not known', () => without('disease')],
  ]);
  offer(visit.sex ? `${personOfSex[visit.sex]}${mine('sex')}` : 'Sex?', 'Which sex?', [
    ...sexOptions.map(({ value, label }) => [label, () => set({ sex: value })] as const),
    ['Not known', () => without('sex')],
  ]);
  const age = assumed.child
    ? 'A child (age?)'
    : assumed.adult
      ? 'An adult (assumed)'
      : `${ageWords(visit.ageYears)}${mine('ageYears')}`;
  offer(age, 'Which age?', [
    ...[0.5, 1, 3, 6, 9, 12, 15, 17].map((years) => [ageWords(years), () => set({ ageYears: years })] as const),
    ['Adult, 40', () => set({ ageYears: 40 })],
    ['Adult, 70', () => set({ ageYears: 70 })],
  ]);
  if (visit.heightCm !== undefined)
    offer(`${Math.round(visit.heightCm)} cm${mine('heightCm')}`, 'Height', [['Not known', () => without('heightCm')]]);
}

const ageWords = (years: number | undefined): string =>
  years === undefined ? '' : years < 1 ? `${Math.round(years * 12)} months` : `${Number(years.toFixed(1))} years`;

const gasChip: Record<NonNullable<Reading['gas']>, string> = {
  air: 'On room air',
  oxygen: 'On oxygen',
  ventilation: 'On NIV',
};
const postureChip: Record<NonNullable<Reading['posture']>, string> = { upright: 'Upright', supine: 'Lying flat' };

function readingChips(asked: AskedVisit, { measures }: Evidence, offer: Offer, again: Again): void {
  for (const [id, reading] of Object.entries(asked.readings)) {
    const measure = measures[id];
    if (measure?.kind !== 'number') continue;
    const set = (fact: Partial<Reading>) =>
      again({ ...asked, readings: { ...asked.readings, [id]: { ...reading, ...fact } } });
    if (measure.roomAir)
      offer(
        reading.gas ? gasChip[reading.gas] : 'Air, oxygen or NIV?',
        `${measure.short} taken on`,
        (['air', 'oxygen', 'ventilation'] as const).map((gas) => [gasChip[gas], () => set({ gas })] as const),
      );
    const flat = lyingDown[id];
    if (flat !== undefined && reading.posture !== undefined)
      offer(postureChip[reading.posture], `${measure.short} taken`, [
        [postureChip.upright, () => set({ posture: 'upright' })],
        [postureChip.supine, () => again(renamed(asked, id, flat))],
      ]);
  }
  const several = Object.keys(asked.readings);
  if (several.length > 1)
    offer('Leave one out', 'Which reading is wrong?', [
      ...several.map((id) => [measures[id]?.short ?? id, () => again(leftOut(asked, id))] as const),
      ['None', () => again(asked)],
    ]);
}

function leftOut(asked: AskedVisit, id: string): AskedVisit {
  const { [id]: _gone, ...rest } = asked.readings;
  return { ...asked, readings: rest, parts: asked.parts.filter((part) => part.measure !== id) };
}

/** Vital capacity lying flat is a measure of its own. */
function renamed(asked: AskedVisit, from: string, to: string): AskedVisit {
  const { [from]: reading, ...rest } = asked.readings;
  return {
    ...asked,
    readings: reading ? { ...rest, [to]: { ...reading, posture: 'supine' } } : rest,
    parts: asked.parts.map((part) => (part.measure === from ? { ...part, measure: to } : part)),
  };
}

/** A word can be read wrongly: each sign and support can be turned round or taken out. */
function signChips(asked: AskedVisit, { measures }: Evidence, data: EvidenceData, offer: Offer, again: Again): void {
  for (const [id, sign] of Object.entries(asked.signs)) {
    const name = measures[id]?.short ?? id;
    const { [id]: _gone, ...rest } = asked.signs;
    const set = (answered: Sign) => again({ ...asked, signs: { ...asked.signs, [id]: answered } });
    offer(sign === 'present' ? name : `No ${name}`, `${name}: which is true?`, [
      ['Yes', () => set('present')],
      ['No', () => set('absent')],
      ['Not known', () => again({ ...asked, signs: rest })],
    ]);
  }
  for (const [id, status] of Object.entries(asked.supports)) {
    const name = data.decisions[id]?.status?.label ?? data.decisions[id]?.title ?? id;
    const { [id]: _gone, ...rest } = asked.supports;
    offer(`${name}: ${supportStatusWords[status]}`, `${name}: which is true?`, [
      ['In place', () => again({ ...asked, supports: { ...asked.supports, [id]: 'in-place' } })],
      ['None', () => again({ ...asked, supports: { ...asked.supports, [id]: 'none' } })],
      ['Not known', () => again({ ...asked, supports: rest })],
    ]);
  }
}
