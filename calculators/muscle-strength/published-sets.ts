/**
 * The published reference sets for respiratory muscle pressures: who was measured, at which ages, where
 * it was read and how well it is known. Their lines are in the calculator that uses them.
 *
 * Ages are completed years, as the papers count them: a set for 7 to 17 takes a person of 17 and a half.
 */
import type { Citation } from '../calculator.ts';

export interface PublishedSet {
  name: string;
  people: 'adult' | 'child';
  ages: readonly [number, number];
  citation: Citation;
  /** printed beside the set's figures */
  note?: string;
}

/** No upper age was published: the eldest anyone types. */
const noUpperAge = 120;

export const published = {
  'evans-whitelaw-2009': {
    name: 'Evans and Whitelaw 2009',
    people: 'adult',
    ages: [18, 70],
    citation: {
      cite: 'Evans JA, Whitelaw WA. Respir Care 2009;54:1348-1359',
      locator: 'abstract: all eight equations, predicted and lower limit, pooled from earlier studies',
      standing: 'checked',
      note: 'The equations are valid up to about 70 years of age; the lower age limit of 18 is not yet checked. The equations agreed very poorly with measurements in 240 Argentinian adults (abstract, Rev Am Med Respir 2018;18(2))',
    },
    note: 'pooled studies, flanged mouthpiece',
  },
  'harik-khan-1998': {
    name: 'Harik-Khan 1998',
    people: 'adult',
    ages: [20, 90],
    citation: {
      cite: 'Harik-Khan RI, Wise RA, Fozard JL. Am J Respir Crit Care Med 1998;158:1459-1464',
      locator: 'abstract: equations and standard errors, 139 men and 128 women aged 20 to 90 years',
      standing: 'checked',
      note: 'The lower limit (the predicted value less 1.645 standard errors) is our own calculation',
    },
    note: 'the lower limit is our own calculation from the standard error',
  },
  'araujo-2024-brazil': {
    name: 'Ara\u00fajo 2024 (Brazil)',
    people: 'adult',
    ages: [20, 80],
    citation: {
      cite: 'Ara\u00fajo PRS, Fonseca JDM, Marcelino AA, et al. PLoS ONE 2024;19(11):e0313209',
      locator: 'abstract: equations and standard errors, 111 men and 132 women aged 20 to 80 years',
      standing: 'checked',
      note: 'The lower limit (the predicted value less 1.645 standard errors) is our own calculation',
    },
    note: 'the lower limit is our own calculation from the standard error',
  },
  'pessoa-2014-brazil': {
    name: 'Pessoa 2014 (Brazil)',
    people: 'adult',
    ages: [20, 89],
    citation: {
      cite: 'Pessoa IMBS, Houri Neto M, Montemezzo D, et al. Braz J Phys Ther 2014;18:410-418',
      locator: 'abstract: one equation for each pressure, with a term for men',
      standing: 'checked',
      note: 'We have not yet checked whether the term for sex in the equations is added for men and not for women',
    },
  },
  'hautmann-2000': {
    name: 'Hautmann 2000',
    people: 'adult',
    ages: [18, 82],
    citation: {
      cite: 'Hautmann H, Hefele S, Schotten K, Huber RM. Respir Med 2000;94:689-693',
      locator: 'equations in kPa, by age and body mass index',
      standing: 'from-memory',
      note: 'We read the abstract: 248 men and 256 women, and the lower limit of 60 (men) and 59 (women) per cent of predicted',
    },
    note: 'equation from memory; lower limit (60 or 59 per cent of the predicted value) read',
  },
  'black-hyatt-1969': {
    name: 'Black and Hyatt 1969',
    people: 'adult',
    ages: [20, 74],
    citation: {
      cite: 'Black LF, Hyatt RE. Am Rev Respir Dis 1969;99:696-702',
      locator: 'means with 2 SD under 55 years, equations from 55',
      standing: 'from-memory',
      note: 'We read the paper\u2019s own summary: in 120 people aged 20 to 74 years, pressures did not fall with age under 55, and men\u2019s inspiratory pressure did not fall after 55. Where pressure did not fall with age, we use an equation without age',
    },
    note: 'tube mouthpiece, reads highest; under 55 the mean less 2 SD',
  },
  'wilson-1984-adult': {
    name: 'Wilson 1984',
    people: 'adult',
    ages: [18, 65],
    citation: {
      cite: 'Wilson SH, Cooke NT, Edwards RHT, Spiro SG. Thorax 1984;39:535-538',
      locator: 'adults: men by age, women by height',
      standing: 'from-memory',
    },
    note: 'men by age only, women by height only',
  },
  'neder-1999-brazil': {
    name: 'Neder 1999 (Brazil)',
    people: 'adult',
    ages: [20, 80],
    citation: {
      cite: 'Neder JA, Andreoni S, Lerario MC, Nery LE. Braz J Med Biol Res 1999;32:719-727',
      locator: 'equations and standard errors',
      standing: 'from-memory',
      note: 'We read the abstract: the study included 100 adults aged 20 to 80 years. The abstract does not print the equations. The lower limit is our own calculation from the standard error',
    },
    note: 'the lower limit is our own calculation from the standard error',
  },
  'wilson-1984-child': {
    name: 'Wilson 1984 (children)',
    people: 'child',
    ages: [7, 17],
    citation: {
      cite: 'Wilson SH, Cooke NT, Edwards RHT, Spiro SG. Thorax 1984;39:535-538',
      locator: 'children aged 7 to 17: inspiratory pressure by weight, expiratory pressure by age',
      standing: 'from-memory',
      note: 'We found only the boys\u2019 inspiratory equation elsewhere, in a table of Int J Clin Pediatr 2023;12:37-44 (235 children, R squared 0.16)',
    },
    note: 'no lower limit published',
  },
  'mcelvaney-1989-elderly': {
    name: 'McElvaney 1989',
    people: 'adult',
    ages: [55, noUpperAge],
    citation: {
      cite: 'McElvaney G, Blackie S, Morrison NJ, et al. Am Rev Respir Dis 1989;139:277-281',
      locator: 'abstract: 95 % limits for people older than 55, with no fall with age',
      standing: 'checked',
      note: 'We have not yet checked the names of these authors. The source gives only 95 % limits, and no predicted value',
    },
  },
  'sclauser-pessoa-2014-meta': {
    name: 'Sclauser Pessoa 2014 (pooled means)',
    people: 'adult',
    ages: [18, 83],
    citation: {
      cite: 'Sclauser Pessoa IMB, Franco Parreira V, Fregonezi GAF, et al. Can Respir J 2014;21:43-50',
      locator: 'table of means by age band with the confidence interval of each mean',
      standing: 'from-memory',
      note: 'The confidence interval shows how precisely the mean is known. The lower end of the confidence interval is not a lower limit for one person. We read the abstract: 426 men, 414 women, 18 to 83 years',
    },
  },
  'rodrigues-2017': {
    name: 'Rodrigues 2017 (cut-offs)',
    people: 'adult',
    ages: [20, noUpperAge],
    citation: {
      cite: 'Rodrigues A, Da Silva ML, Berton DC, et al. Chest 2017;152:32-39',
      locator: 'lower limits by sex and age band',
      standing: 'from-memory',
      note: 'Recalled with moderate confidence',
    },
  },
  'japan-2009': {
    name: 'Japan 2009',
    people: 'adult',
    ages: [18, 69],
    citation: {
      cite: 'Kamide N, Ogino M, Yamashina N, Fukuda M. Respiration 2009;77:58-62',
      locator: 'abstract: means and lower limits, 112 men and 111 women aged 18 to 69 years',
      standing: 'checked',
      note: 'We have not yet checked the names of these authors. SNIP fell with age in men and rose with body mass index in women; the abstract prints no equation',
    },
    note: 'mean of the group, no line for age',
  },
  'uldry-fitting-1995': {
    name: 'Uldry and Fitting 1995',
    people: 'adult',
    ages: [20, 80],
    citation: {
      cite: 'Uldry C, Fitting JW. Thorax 1995;50:371-375',
      locator: 'equations with age, and how far the lower limit lies below the predicted value',
      standing: 'from-memory',
      note: 'A companion abstract (Fitting 1996, 160 people aged 20 to 80 years) describes the same kind of equations but does not print their coefficients',
    },
  },
  'stefanutti-fitting-1999-child': {
    name: 'Stefanutti and Fitting 1999',
    people: 'child',
    ages: [6, 17],
    citation: {
      cite: 'Stefanutti D, Fitting JW. Am J Respir Crit Care Med 1999;159:107-111',
      locator: 'abstract: means 104 (SD 26) boys and 93 (SD 23) girls, 180 children aged 6 to 17 years',
      standing: 'checked',
      note: 'The equation for boys that includes age is not yet checked and is shown separately',
    },
    note: 'mean of the group; SD 26 boys, 23 girls; no lower limit printed',
  },
  'marcelino-2020-child': {
    name: 'Marcelino 2020 (Brazil)',
    people: 'child',
    ages: [6, 11],
    citation: {
      cite: 'Marcelino AA, Fregonezi GA, Lira MGA, et al. Pediatr Pulmonol 2020;55:496-502',
      locator: 'abstract: means, SD and lower limits, 6 to 11 years',
      standing: 'checked',
    },
    note: 'mean of the group',
  },
} as const satisfies Record<string, PublishedSet>;

export type SetId = keyof typeof published;
