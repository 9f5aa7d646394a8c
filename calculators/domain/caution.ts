import type { Criterion } from './criterion.ts';

/** What a caution is about, where the words for the purpose are an instruction: "start night NIV". */
const about: Partial<Record<Criterion['support'], string>> = {
  'assessment-frequency': 'how often to test',
  referral: 'referral and further tests',
  'bilevel-niv-start': 'night NIV',
  'mi-e-start': 'the cough machine (MI-E)',
  dependency: 'a second ventilator and batteries',
  'breathlessness-comfort': 'comfort in breathlessness',
  'procedure-preparation': 'procedures',
  'urgent-same-day': 'a call the same day',
  emergency: 'a possible emergency',
};

/** Neither the purpose alone, which would read as a reason for it, nor 'caution about start night NIV'. */
export const cautionAbout = (support: Criterion['support'], purpose: string): string =>
  `caution about ${about[support] ?? purpose}`;
