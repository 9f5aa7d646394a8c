/**
 * Peak cough flow per minute and per second, and what published flows were measured on.
 *
 *   perSecond = perMinute / 60
 *
 * Meters read litres per minute; spirometers and many papers print litres per second. A flow sixty times
 * too small or too large is the easy error, so a number that only makes sense in the other unit is refused
 * and not converted. The second error is to mix techniques: a flow on MI-E or after stacking is not the
 * person's own cough, and a flow taken when well is not one taken during an infection.
 *
 * Technique and state may be left empty: the flow is converted, and nothing is claimed to match it.
 *
 * @refuses  a flow of 20 L/min or less or above 1200 L/min (0.33 to 20 L/s; common practice), asking about the unit
 * @withholds  every published flow under 12 years and the adult ones under 18: no threshold is set for young children
 */

import { age } from '../body-size/shared-fields.ts';
import { type Citation, defineCalculator, formula } from '../calculator.ts';
import { isChild } from '../domain/age-and-sex.ts';
import type { ResultTable } from '../outcome.ts';
import { standingWords } from '../standing.ts';
import { type PublishedFlow, publishedFlows, type State } from './published-flows.ts';
import { coughFlow, emergency, type Technique, technique, techniques } from './shared-fields.ts';

const perSecond = formula({
  result: 'perSecond',
  unit: 'L/s',
  text: 'perMinute / 60',
  withUnits: 'perMinute / (60 s/minute)',
  symbols: { perMinute: { means: 'peak cough flow', unit: 'L/minute', range: [20, 1200] } },
  run: ({ perMinute }) => perMinute / 60,
});

const citations: Citation[] = [
  { cite: 'Definition of the minute', locator: '1 L/s is 60 L/min', standing: 'checked' },
  {
    cite: 'Strickland SL, Rubin BK, et al. Respir Care 2013;58(12) (AARC guideline)',
    locator: 'neuromuscular recommendations, item 1, in the AHRQ archive, summary 10228',
    standing: 'checked',
  },
  {
    cite: 'Sancho J, Servera E, et al. Am J Respir Crit Care Med 2007;175:1266-1271',
    locator: 'abstract',
    standing: 'checked',
  },
  {
    cite: 'Sancho J, Servera E, Banuls P, Marin J. Amyotroph Lateral Scler Frontotemporal Degener 2017;18:498-504',
    locator: 'abstract',
    standing: 'checked',
  },
  { cite: 'Bach JR, Saporito LR. Chest 1996;110:1566-1571', locator: 'abstract', standing: 'checked' },
  { cite: 'Chatwin M, Simonds AK. Respir Care 2020;65:135-143', locator: 'abstract', standing: 'checked' },
  {
    cite: 'Paediatric review. Curr Opin Pediatr 2006;18:277',
    locator: 'abstract: the adult threshold of 160 L/min is known, but no threshold is set for young children',
    standing: 'checked',
  },
  {
    cite: 'Effect of the inspiratory method and timing of voluntary cough. Ann Rehabil Med 2023;47:118-128',
    locator:
      'abstract: 382, 355 or 297 L/min in the same people with restrictive disease, depending on the breath taken before the cough',
    standing: 'checked',
  },
  {
    cite: 'Birnkrant DJ, et al. Lancet Neurol 2018;17:347-361; Sheehan DW, et al. Pediatrics 2018;142 Suppl 2',
    locator: 'Duchenne, assisted cough, in an education-page summary',
    standing: 'checked-in-summary',
  },
  {
    cite: 'BTS/ACPRC 2009; Tzeng AC, Bach JR. Chest 2000;118:1390-1396; BTS children 2012',
    locator: 'the flows of 270 and 160 L/min',
    standing: 'from-memory',
  },
];

export default defineCalculator({
  id: 'peak-cough-flow',
  title: 'Peak cough flow, per minute and per second',
  purpose: 'Shows a cough flow in L/min and L/s, and the conditions in which each published flow was measured.',
  group: 'cough',
  keywords: [
    'PCF',
    'CPF',
    'peak cough flow',
    'cough peak flow',
    'L/s',
    'L/min',
    'unassisted',
    'assisted',
    'weak cough',
  ],
  fields: {
    flow: {
      ...coughFlow,
      help: 'Enter the best of three or more coughs. If the meter does not move, there is no number: record "below the lowest mark of the meter".',
    },
    technique,
    state: {
      kind: 'choice',
      label: 'When it was measured',
      options: [
        { value: 'stable', label: 'Stable, no chest infection' },
        { value: 'infection', label: 'During a chest infection' },
      ],
      optional: true,
    },
    age: {
      ...age,
      optional: true,
      help: 'Published cough flows are not shown under 12 years, and adult cough flows are not shown under 18.',
    },
  },
  formulas: { perSecond },
  results: {
    perMinute: { label: 'Peak cough flow', unit: 'L/min', decimals: 0, plausible: [0, 950], main: true },
    perSecond: { label: 'Peak cough flow per second', unit: 'L/s', decimals: 2, plausible: [0, 16], main: true },
  },
  holds: {
    population:
      'anyone, if you only convert a flow; the published flows are for people aged 12 years and over, and most of them are for adults',
    ages: 'any age for the conversion; 12 years and over for the published flows',
    notFor: 'comparing a flow with a number that was measured another way',
  },
  before: [emergency],
  cautions: [
    'This page converts a cough flow and explains the published flows. To compare a reading with published criteria, use the visit sheet.',
    'A leak, weak lips or a poor effort makes the cough flow read low. A spike through loose lips can make the cough flow read falsely high (common practice).',
    'The breath taken before the cough changes the cough flow. Coach the breath before the cough in the same way each time, and write down how.',
  ],
  citations,
  compute: ({ flow, technique, state, age }, step) => {
    const shown = age === undefined ? publishedFlows : publishedFlows.filter((row) => age >= row.fromAge);
    return {
      results: { perMinute: { value: flow }, perSecond: { value: step(perSecond, { perMinute: flow }) } },
      cautions: [...aboutAge(age), ...aboutTechnique(technique)],
      tables: shown.length === 0 ? [] : [known(shown, technique, state), unchecked(shown, technique, state)],
    };
  },
});

function aboutAge(age: number | undefined): string[] {
  if (age === undefined)
    return ['No age was given, so the published flows are shown as for an adult. They do not apply under 12 years.'];
  if (age < 12)
    return [
      'Under 12 years no published flow is shown: the numbers come from adults, and no threshold is set for young children. The conversion is correct at any age.',
    ];
  if (age < 13)
    return [
      'At exactly 12 years the clinic decides, because the British guideline for children says "over the age of 12 years". Flows found in adults are left out.',
    ];
  if (isChild(age)) return ['Under 18 years the flows found in adults are left out.'];
  return [];
}

function aboutTechnique(technique: Technique | undefined): string[] {
  if (technique === undefined)
    return ['It was not recorded how the cough was assisted, so this flow cannot be compared with any published flow.'];
  if (technique === 'unassisted') return [];
  return [
    `A flow ${techniques[technique]} is not the person\u2019s own cough. Record how it was assisted, and measure the unassisted flow too.`,
  ];
}

const columns = ['Source', 'Flow, L/min', 'Measured on', 'Compared with this reading', 'Standing'];

const known = (rows: readonly PublishedFlow[], technique?: Technique, state?: State): ResultTable => ({
  caption: 'The conditions of each published flow. None of them is a finding about this person',
  columns,
  rows: rows.filter((row) => row.standing !== 'from-memory').map((row) => asRow(row, technique, state)),
});

const unchecked = (rows: readonly PublishedFlow[], technique?: Technique, state?: State): ResultTable => ({
  caption: 'Not yet checked: read the source before relying on it',
  columns,
  rows: rows.filter((row) => row.standing === 'from-memory').map((row) => asRow(row, technique, state)),
});

const asRow = (row: PublishedFlow, technique?: Technique, state?: State) => ({
  label: row.source,
  cells: [
    row.flow,
    `${row.technique === 'assisted' ? 'assisted' : techniques[row.technique]}, ${stateWords[row.state]}: ${row.about}`,
    beside(row, technique, state),
    standingWords[row.standing],
  ],
});

const stateWords = {
  stable: 'stable',
  infection: 'during a chest infection',
  'tube-removal': 'at extubation',
  'not-stated': 'state not given',
} as const;

/** Whether a published flow and a reading were taken the same way: the only question this page may answer. */
export function beside(row: Pick<PublishedFlow, 'technique' | 'state'>, technique?: Technique, state?: State): string {
  if (technique === undefined) return 'Cannot tell: technique not recorded';
  const sameTechnique =
    row.technique === 'assisted' ? technique !== 'unassisted' && technique !== 'mi-e' : row.technique === technique;
  if (!sameTechnique)
    return `Not the same: that flow is ${row.technique === 'assisted' ? 'assisted' : techniques[row.technique]}`;
  if (row.state === 'not-stated')
    return 'Same technique; the source does not say whether people were stable or had an infection';
  if (row.state === 'tube-removal') return 'Not the same: that flow was measured at extubation';
  if (state === undefined) return 'Cannot tell: not recorded whether stable or in an infection';
  return row.state === state ? 'Measured the same way' : `Not the same: that flow was measured ${whenWords[row.state]}`;
}

const whenWords = { stable: 'when stable', infection: 'during a chest infection' } as const;
