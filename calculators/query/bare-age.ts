/**
 * A bare number right beside a disease or a person is offered as an age ('duchenne 13', '62 als'), never silently taken as a
 * reading. Where a measure's name waits for its number ('fvc duchenne 44') it is that reading.
 */

import type { Found } from './found.ts';
import { lyingDown } from './meaning.ts';
import type { Typed } from './numbers.ts';
import type { Pair } from './pair.ts';
import { type AgeTyped, adultDiseases } from './person.ts';
import type { Taken } from './text.ts';
import { madeOnce, type Vocabulary } from './vocabulary.ts';

const noAge = madeOnce(({ people }) => new RegExp(`(?<![a-z])(?:${people.noAgeAfter}) $`));

/**
 * Takes the number out of its pair, where it was in one. A number after the disease comes before one in front of it.
 *
 * @param used  numbers and words of a series: a value from before is no age
 */
export function takeBareAge(
  found: Found,
  pairs: readonly Pair[],
  used: readonly Taken[],
  words: Vocabulary,
): AgeTyped | undefined {
  const adult = found.about.some(({ what }) => what.kind === 'disease' && adultDiseases.includes(what.disease));
  const pairOf = (quantity: Typed) => pairs.find(({ quantities }) => quantities.includes(quantity));
  const takeOut = (quantity: Typed) => {
    const own = pairOf(quantity)?.quantities;
    own?.splice(own.indexOf(quantity), 1);
  };
  const beside = found.quantities.filter(
    (one) =>
      // Sitting and lying: two numbers of one test.
      (found.conditions.postures.length < 2 || isSpare(pairOf(one), one, found)) &&
      !used.some(({ at }) => at === one.at) &&
      !followsPosture(one, found) &&
      !noAge(words).test(found.text.slice(0, one.at)) &&
      /^\d+$/.test(one.typed) &&
      // 'gbs 15-20 ml/kg'
      !/^ ?-\d/.test(found.text.slice(one.end)) &&
      one.value <= 110 &&
      ((standsAfter(one, found) && !waits(pairOf(one), one)) ||
        (standsBefore(one, found) && isSpare(pairOf(one), one, found))),
  );
  const able = found.ages.age ? [] : beside.filter(({ value }) => value >= (adult ? 16 : 1) && value <= 110);
  const chosen = able.find((one) => standsAfter(one, found)) ?? able[0];
  if (chosen) takeOut(chosen);
  // No age either, such as 12 beside ALS: not understood, and no second reading of the name before it.
  for (const one of beside) if (one !== chosen && isSpare(pairOf(one), one, found)) takeOut(one);
  return chosen && { ...chosen, years: chosen.value, assumed: `age ${chosen.typed}?` };
}

/** 'fvc 68 supine 47 pompe': the number of that posture. */
const followsPosture = ({ at }: Typed, { conditions, text }: Found): boolean =>
  conditions.postures.some(({ end }) => end <= at && /^ ?$/.test(text.slice(end, at)));

const people = ({ about }: Found) => about.filter(({ what, negated }) => !negated && what.kind !== 'child');

const standsAfter = ({ at }: Typed, found: Found): boolean =>
  people(found).some(({ end }) => end <= at && /^ ?(?:; )?$/.test(found.text.slice(end, at)));

/** 'co2 on niv 46, off niv 58, als': a number right after what was breathed is no age. */
const standsBefore = ({ at, end }: Typed, found: Found): boolean =>
  !found.supports.some((one) => one.end <= at && found.text.slice(one.end, at).trim() === '') &&
  people(found).some(({ at }) => end <= at && /^ (?:; )?$/.test(found.text.slice(end, at)));

/** The only number of a name that stands before the disease. A name after both gets none: the number may be an age. */
const waits = (pair: Pair | undefined, { at }: Typed): boolean =>
  pair !== undefined && pair.quantities.length === 1 && !pair.reversed && pair.name.end <= at;

/** The second of two numbers after a name: of three they are a series, and with two postures each has its own. */
const isSpare = (pair: Pair | undefined, quantity: Typed, { conditions }: Found): boolean =>
  pair === undefined ||
  (pair.quantities.length === 2 &&
    pair.quantities[1] === quantity &&
    (conditions.postures.length < 2 || !pair.name.measures.some((id) => lyingDown[id] !== undefined)));
