/** Everything on the sheet that cannot be true together, in one list: a sentence for each, and the fields to look at. */
import type { Decisions } from '../domain/decision.ts';
import type { Measures } from '../domain/measure.ts';
import { type Reading, supportStatusWords, type Visit, type Wish, wishWords } from '../domain/visit.ts';
import { convert, convertible, type UnitCode } from '../quantity.ts';
import { contradictionWords } from './contradiction-words.ts';
import { contradictions } from './implied.ts';
import { readingWords } from './say.ts';

export interface Disagreement {
  /** one id for one kind of contradiction */
  id: string;
  words: string;
  /** measures, `support:<decision>` or `wishes`, in the order to look at them */
  fields: string[];
}

const ventilations = ['night-ventilation', 'daytime-ventilation'] as const;

export function disagreements(visit: Visit, measures: Measures, decisions: Decisions): Disagreement[] {
  const label = (id: string) => decisions[id]?.status?.label ?? id;
  const words = (id: string, reading: Reading) => {
    const measure = measures[id];
    return measure ? readingWords(reading, measure) : String(reading.value);
  };
  return [
    ...contradictions(visit, measures).map((one) => ({
      id: one.sign,
      words: contradictionWords(one, measures, decisions),
      fields: [one.sign, one.implied.from].map((id) => (decisions[id]?.status ? `support:${id}` : id)),
    })),
    ...ventilatorUse(visit, label, words),
    ...wishesAgainstSupport(visit, label),
    ...wishesAgainstEachOther(visit),
    ...oxygenAndAir(visit, words),
    ...pairs.flatMap((pair) => tooHigh(visit, pair, measures, words)),
  ];
}

type Label = (id: string) => string;
type Words = (id: string, reading: Reading) => string;

/** 'Night NIV: none, but 14 h/day on the ventilator' */
function ventilatorUse({ supports = {}, readings }: Visit, label: Label, words: Words): Disagreement[] {
  const answered = ventilations.filter((id) => supports[id] !== undefined);
  if (answered.length === 0 || answered.some((id) => supports[id] === 'in-place')) return [];
  const statuses = answered.map((id) => `${label(id)}: ${supportStatusWords[supports[id] ?? 'none']}`).join('; ');
  const fields = answered.map((id) => `support:${id}`);
  const hours = readings['niv-hours'];
  if (hours && hours.value > 0)
    return [
      {
        id: 'hours-without-ventilator',
        words: `${statuses}, but ${words('niv-hours', hours)} on the ventilator.`,
        fields: [...fields, 'niv-hours'],
      },
    ];
  const [on] = Object.entries(readings).filter(([, { gas }]) => gas === 'ventilation');
  if (!on) return [];
  const [id, reading] = on;
  return [
    {
      id: 'reading-on-no-ventilator',
      words: `${statuses}, but ${words(id, reading)} was taken on a ventilator.`,
      fields: [...fields, id],
    },
  ];
}

function wishesAgainstSupport({ supports = {}, wishes = [] }: Visit, label: Label): Disagreement[] {
  if (!wishes.includes('no-ventilation')) return [];
  return ventilations
    .filter((id) => supports[id] === 'in-place')
    .map((id) => ({
      id: `wish-against-${id}`,
      words: `${wishWords['no-ventilation']}, but ${label(id)} is in place. Ask again, because the wish may be about adding more, or about stopping.`,
      fields: ['wishes', `support:${id}`],
    }));
}

const opposed: readonly Wish[] = ['no-hospital', 'comfort-only', 'no-ventilation', 'no-invasive-ventilation'];

function wishesAgainstEachOther({ wishes = [] }: Visit): Disagreement[] {
  const against = wishes.filter((wish) => opposed.includes(wish));
  const both = (one: Wish, others: readonly Wish[]): Disagreement[] =>
    wishes.includes(one) && others.length > 0
      ? [
          {
            id: `wishes-${one}`,
            words: `Wishes: both \u201c${wishWords[one]}\u201d and \u201c${others.map((wish) => wishWords[wish]).join('; ')}\u201d.`,
            fields: ['wishes'],
          },
        ]
      : [];
  return [
    ...both('everything', against),
    ...both(
      'not-discussed',
      wishes.filter((wish) => wish !== 'not-discussed'),
    ),
  ];
}

function oxygenAndAir({ readings }: Visit, words: Words): Disagreement[] {
  const flow = readings['oxygen-flow'];
  const { spo2 } = readings;
  if (!flow || flow.value <= 0 || spo2?.gas !== 'air') return [];
  return [
    {
      id: 'air-on-oxygen',
      words: `SpO2 ${words('spo2', spo2)} is marked as on room air, but oxygen is running at ${words('oxygen-flow', flow)}. Both can be true only if the oxygen was off for the reading.`,
      fields: ['spo2', 'oxygen-flow'],
    },
  ];
}

/** The first can never be more than the second. */
const pairs = [
  ['nocturnal-spo2-lowest', 'nocturnal-spo2-mean'],
  ['nocturnal-consecutive-minutes-spo2-at-or-below-88', 'nocturnal-minutes-spo2-at-or-below-88'],
  ['nocturnal-minutes-spo2-at-or-below-88', 'recording-hours'],
  ['nocturnal-drops-4-per-hour', 'nocturnal-drops-3-per-hour'],
  ['ventilator-epap', 'ventilator-ipap'],
] as const satisfies [string, string][];

function tooHigh(
  { readings }: Visit,
  [part, whole]: (typeof pairs)[number],
  measures: Measures,
  words: Words,
): Disagreement[] {
  const [less, more] = [readings[part], readings[whole]];
  if (!less || !more || !convertible(less.unit, more.unit)) return [];
  const unit: UnitCode = more.unit;
  if (convert(less.value, less.unit, unit) <= more.value * (1 + 1e-9)) return [];
  const name = (id: string) => measures[id]?.short ?? id;
  const first = name(part).charAt(0).toUpperCase() + name(part).slice(1);
  return [
    {
      id: `${part}-over-${whole}`,
      words: `${first} ${words(part, less)} is more than ${name(whole)} ${words(whole, more)}.`,
      fields: [part, whole],
    },
  ];
}
