/** One page of each kind, brought to the state in which a reader looks at it. */
import type { Page } from 'playwright-core';
import { wake } from './browser.ts';
import { examplesOf, fill } from './form.ts';
import { enterCaseA, ready } from './sheet.ts';

export interface Kind {
  name: string;
  path: string;
  /** what a reader does before they look */
  prepare?: (page: Page) => Promise<void>;
}

async function ask(page: Page, line: string): Promise<void> {
  await page.locator('#q').fill(line);
  await page.locator('#q').press('Enter');
  await page.locator('#instant > *').first().waitFor();
}

async function calculate(page: Page, id: string): Promise<void> {
  await wake(page);
  await fill(page, id, examplesOf(id).find(({ gives }) => gives)?.given ?? {});
}

/** Islands wake in view: the reader is then back at the top. */
async function awake(page: Page): Promise<void> {
  await wake(page);
  await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }));
}

const answerFirst = async (page: Page): Promise<void> => {
  const question = page.locator('form:has(input[type="radio"])').first();
  await question.locator('label').last().click();
  await question.locator('button[type="submit"]').click();
};

const opened = (page: Page): Promise<void> => page.locator('#opened-title').waitFor();

export const kinds: readonly Kind[] = [
  { name: 'Home', path: '/' },
  { name: 'Home, answered', path: '/', prepare: (page) => ask(page, 'als 62 sniff 38 sleepy') },
  { name: 'Search, emergency', path: '/search/', prepare: (page) => ask(page, 'gbs vc 0.9 l breathless') },
  { name: 'Search, trouble', path: '/search/', prepare: (page) => ask(page, 'mask leak') },
  { name: 'Urgent', path: '/urgent/' },
  { name: 'Urgent page', path: '/urgent/drowsy-or-grey/' },
  { name: 'Handbook', path: '/handbook/' },
  { name: 'Handbook page', path: '/breathing/failing-at-night/' },
  { name: 'Measuring', path: '/measuring/vital-capacity/' },
  { name: 'Disease', path: '/diseases/als/' },
  { name: 'Calculators', path: '/calculators/' },
  {
    name: 'Calculator',
    path: '/calculators/ideal-body-weight/',
    prepare: (page) => calculate(page, 'ideal-body-weight'),
  },
  {
    name: 'Calculator, long',
    path: '/calculators/oxygen-flow-to-fio2/',
    prepare: (page) => calculate(page, 'oxygen-flow-to-fio2'),
  },
  { name: 'Overnight oximetry', path: '/overnight-oximetry/', prepare: awake },
  { name: 'Decisions', path: '/decisions/' },
  { name: 'Decision', path: '/decisions/night-ventilation/' },
  { name: 'Decision, disease', path: '/decisions/night-ventilation/als/' },
  { name: 'Visit', path: '/visit/', prepare: ready },
  {
    name: 'Visit, filled',
    path: '/visit/',
    prepare: async (page) => {
      await ready(page);
      await enterCaseA(page);
      await page.locator('#note-text').scrollIntoViewIfNeeded();
    },
  },
  { name: 'Agreement', path: '/agree/', prepare: awake },
  { name: 'Agreement, opened', path: '/agree/open/#demonstration', prepare: opened },
  { name: 'Compare', path: '/agree/compare/', prepare: awake },
  { name: 'Sign-off', path: '/agree/sign/', prepare: awake },
  { name: 'Learning', path: '/learn/' },
  { name: 'Lesson', path: '/learn/how-breathing-fails/' },
  { name: 'Lesson, answered', path: '/learn/what-we-measure-and-how-it-lies/', prepare: answerFirst },
  { name: 'Case', path: '/learn/cases/three-pillows/', prepare: awake },
  { name: 'Mixed check', path: '/learn/check/' },
  { name: 'Record', path: '/learn/record/' },
  { name: 'Teacher', path: '/learn/teacher/answers/' },
  { name: 'Pocket', path: '/learn/pocket/' },
  { name: 'Evidence', path: '/evidence/' },
  { name: 'Disagreements', path: '/evidence/disagreements/' },
  { name: 'Sources', path: '/sources/' },
  { name: 'Source', path: '/sources/aan-2009/' },
  { name: 'Glossary', path: '/glossary/' },
  { name: 'All pages', path: '/all-pages/' },
  { name: 'Offline', path: '/offline/' },
  { name: 'About', path: '/about/' },
  { name: 'Data', path: '/data/' },
  { name: 'No such page', path: '/no-such-page/' },
];
