/** Every page that can be looked up, with the words it is looked up by: for the list of all pages, and for search. */
import { getCollection } from 'astro:content';
import { calculators } from '../../calculators/index.ts';
import { measures, sources } from '../evidence/evidence.ts';
import type { Listed } from '../search/rank.ts';
import { allDecisions, decisionAddress } from './decision-pages.ts';
import { sourceAddress } from './source-address.ts';

/** Pages of the site itself, which no collection lists. */
const tools: Omit<Listed, 'kind'>[] = [
  {
    to: '/evidence/',
    title: 'Evidence and checks',
    words: ['standing', 'checked', 'memory'],
    says: 'How every number was checked.',
  },
  {
    to: '/evidence/disagreements/',
    title: 'Where the sources disagree',
    words: ['differences', 'thresholds', 'compare'],
    says: 'Where published sources differ, shown side by side.',
  },
  {
    to: '/agree/',
    title: 'Clinic agreement',
    words: ['local thresholds', 'own thresholds', 'protocol', 'policy'],
    says: 'The clinic\u2019s own criteria next to the published ones.',
  },
  {
    to: '/data/',
    title: 'Data',
    words: ['JSON', 'CSV', 'schema', 'download', 'licence', 'registers'],
    says: 'The registers behind the handbook as files.',
  },
  { to: '/agree/open/', title: 'Open an agreement', words: ['clinic file', 'link', 'QR code'], says: '' },
  { to: '/agree/compare/', title: 'Compare agreements', words: ['difference', 'changed evidence'], says: '' },
  { to: '/agree/sign/', title: 'Sign-off paper', words: ['signature', 'print agreement'], says: '' },
  {
    to: '/agree/hosting/',
    title: 'Host your clinic\u2019s own copy',
    words: ['USB stick', 'server', 'install', 'build'],
    says: '',
  },
  {
    to: '/visit/',
    title: 'Visit sheet',
    words: ['readings', 'findings', 'note', 'several readings'],
    says: 'The readings and signs of one visit, compared with every criterion.',
  },
  {
    to: '/urgent/',
    title: 'Urgent help',
    words: ['emergency', 'call now', '999', '911', '112'],
    says: 'What to do when someone is in trouble now.',
  },
  {
    to: '/offline/',
    title: 'Use without a signal',
    words: ['offline', 'install', 'download', 'no internet', 'home screen', 'update', 'version'],
    says: 'Whether the handbook is saved on this device, and how to keep it.',
  },
  {
    to: '/learn/',
    title: 'The learning path',
    words: ['student', 'orientation', 'course', 'lessons', 'training', 'new starter'],
    says: 'Ten short lessons, in order.',
  },
  {
    to: '/learn/cases/',
    title: 'Teaching cases',
    words: ['practice', 'invented people', 'exercise', 'predict'],
    says: 'Invented people: predict the findings, then compare.',
  },
  {
    to: '/learn/see-it-move/',
    title: 'See it move',
    words: ['figures', 'interactive', 'graph', 'simulation'],
    says: 'Figures to move, which show what the calculations look like.',
  },
  {
    to: '/learn/pocket/',
    title: 'Pocket sheets',
    words: ['print', 'one page', 'card', 'cheat sheet', 'conversion table'],
    says: 'One page to print: criteria, technique, units.',
  },
  {
    to: '/learn/teacher/',
    title: 'For the teacher',
    words: ['competencies', 'preceptor', 'answers', 'handout', 'class list', 'curriculum', 'objectives'],
    says: 'How to use the course, answers, points to discuss, papers to print.',
  },
  {
    to: '/learn/check/',
    title: 'Mixed check',
    words: ['test yourself', 'quiz', 'exam', 'what is wrong here', 'curves'],
    says: 'Questions from all lessons: drawings, curves, numbers to work out.',
  },
  {
    to: '/learn/again/',
    title: 'Missed questions',
    words: ['again', 'spaced repetition', 'wrong answers', 'revise'],
    says: 'Questions that were missed, asked again after 1, 3 and 7 days.',
  },
  {
    to: '/learn/record/',
    title: 'Record of learning',
    words: ['record of completion', 'sign off training', 'progress'],
    says: 'What was done on this device, to print and sign.',
  },
  { to: '/about/', title: 'About and safety', words: ['who it is for', 'privacy'], says: '' },
  {
    to: '/glossary/',
    title: 'Glossary',
    words: ['terms', 'abbreviations'],
    says: 'The terms of the trade in plain words.',
  },
];

/** A measuring page is looked up by the names of the readings it is about, too. */
const namesOn = (address: string): string[] =>
  Object.values(measures).flatMap((measure) =>
    measure.page === address ? [measure.short, measure.label, ...measure.synonyms] : [],
  );

export const listedPages: Listed[] = [
  ...(await getCollection('handbook')).map(({ id, data }) => ({
    to: `/${id}/`,
    title: data.title,
    words: [...new Set([...data.synonyms, ...namesOn(`/${id}/`)])],
    says: data.answer,
    kind: 'page' as const,
  })),
  ...Object.values(calculators).map(({ id, title, keywords, purpose }) => ({
    to: `/calculators/${id}/`,
    title,
    words: [...keywords],
    says: purpose,
    kind: 'calculator' as const,
  })),
  ...allDecisions.map(([id, { title, question }]) => ({
    to: decisionAddress(id),
    title,
    words: [] as string[],
    says: question,
    kind: 'decision' as const,
  })),
  ...Object.entries(sources).map(([id, source]) => ({
    to: sourceAddress(id),
    title: source.short,
    words: [] as string[],
    says: '',
    kind: 'source' as const,
  })),
  ...tools.map((page) => ({ ...page, kind: 'tool' as const })),
];

/** Printed after the title where the title alone could be taken for a handbook page. */
export const kindWords: Record<Listed['kind'], string> = {
  page: '',
  calculator: 'calculator',
  decision: 'decision',
  source: 'source',
  tool: '',
};
