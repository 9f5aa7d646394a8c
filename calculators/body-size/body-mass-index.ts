/**
 * Body mass index of an adult.
 *
 *   index = weight / height^2          kg and metres
 *
 * It compares one person's weight with their height and nothing more. In neuromuscular disease it
 * misleads in both directions: muscle that has gone makes a heavy person look normal, fat or fluid can
 * take its place, and a height that was estimated too tall makes the index too low.
 *
 * No words such as 'underweight' are printed: those bands were made on people with ordinary muscle.
 *
 * @refuses under 18 years: a child's index means nothing without the centiles for age and sex
 * @source  definition
 */

import { defineCalculator, formula } from '../calculator.ts';
import { isChild } from '../domain/age-and-sex.ts';
import { refuse } from '../outcome.ts';
import { showAge } from './estimated-height.ts';
import { age, height, weight } from './shared-fields.ts';

export const bodyMassIndex = formula({
  result: 'bodyMassIndex',
  unit: 'kg/m^2',
  text: 'weight / (height / 100)^2',
  withUnits: 'weight / height^2',
  symbols: {
    weight: { means: 'weight', unit: 'kg', range: [30, 200] },
    height: { means: 'height', unit: 'cm', range: [120, 215] },
  },
  run: ({ weight, height }) => weight / (height / 100) ** 2,
});

export default defineCalculator({
  id: 'body-mass-index',
  title: 'Body mass index',
  purpose: 'Calculates body mass index in an adult, and explains what it hides when muscle is lost.',
  group: 'size',
  keywords: ['BMI', 'weight for height', 'nutrition', 'underweight', 'Quetelet'],
  fields: {
    weight,
    height,
    age: {
      ...age,
      optional: true,
      help: 'The age is used only to check that the person is an adult, because a child needs centiles.',
    },
  },
  formulas: { bodyMassIndex },
  results: { bodyMassIndex: { label: 'Body mass index', unit: 'kg/m2', decimals: 1, plausible: [9, 50], main: true } },
  holds: { population: 'adults', ages: '18 years and over', notFor: 'children' },
  cautions: [
    'Body mass index can hide muscle loss. A normal body mass index does not mean that muscle mass or food intake is adequate.',
    'Also monitor weight over time, and ask about eating.',
    'An error in an estimated height counts twice in body mass index, because height is squared. Record how the height was measured.',
    'If a wheelchair, a brace or wet clothes are weighed with the person, the body mass index is too high. Fluid in the legs also raises the body mass index.',
  ],
  citations: [
    {
      cite: 'Body mass index: weight in kilograms over the square of height in metres',
      locator: 'definition',
      standing: 'common-practice',
    },
    {
      cite: 'What body mass index hides when muscle is lost',
      locator: 'as taught in neuromuscular clinics; no published number supports it',
      standing: 'common-practice',
    },
  ],
  compute: ({ weight, height, age }, step) => {
    if (age !== undefined && isChild(age))
      return refuse('age', `This index is for adults only. At ${showAge(age)} use the centiles for age and sex`);
    return { results: { bodyMassIndex: { value: step(bodyMassIndex, { weight, height }) } } };
  },
});
