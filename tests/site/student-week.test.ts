/**
 * A student's first week, and the days after it, on one phone with the signal gone: lessons, a missed question that comes
 * back after 1, 3 and 7 days, cases, the mixed check, and the record that is complete only when everything was done.
 */
import { globSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Case } from '../../calculators/learning/case.ts';
import { checkLength } from '../../calculators/learning/mixed-check.ts';
import type { Question } from '../../calculators/learning/question.ts';
import { accessFaults, overflow } from './access.ts';
import { browser } from './at-hand.ts';
import { installed, openTab, type Tab } from './browser.ts';
import { dist } from './built.ts';
import { printedText } from './pdf.ts';
import { type Server, serve } from './server.ts';
import { plain } from './sheet.ts';

const yaml = (file: string) => parse(readFileSync(file, 'utf8'));
const questions: Question[] = globSync('content/questions/*.yaml').flatMap(yaml);
const cases: { id: string; one: Case }[] = globSync('content/cases/*.yaml')
  .map((file) => ({ id: basename(file, '.yaml'), one: yaml(file) }))
  .sort((a, b) => a.one.order - b.one.order);
const lessons: string[] = globSync('content/handbook/learn/*.mdx')
  .map((file) => ({
    slug: basename(file, '.mdx'),
    lesson: Number(/^lesson: (\d+)/m.exec(readFileSync(file, 'utf8'))?.[1]),
  }))
  .sort((a, b) => a.lesson - b.lesson)
  .map(({ slug }) => slug);
const asked = (lesson: string) => questions.filter((one) => one.lesson === lesson && one.in !== 'check');
const missed = asked('how-breathing-fails')[0] as Question;

let tab: Tab;
let own: Server;
let page: Page;
beforeAll(async () => {
  own = await serve(dist);
  tab = await openTab(browser, own.root, { serviceWorkers: 'allow' });
  page = tab.page;
  await page.goto(own.root);
  await installed(page);
  await own.stop();
});
afterAll(() => tab.context.close());

/** A day of the course, from 30 November 2026 as day 1, at nine in the morning. */
const onDay = (day: number): Promise<void> => page.clock.setFixedTime(new Date(2026, 10, 29 + day, 9));
const open = (path: string) => page.goto(own.at(path));
const said = async (place: string): Promise<string> => plain(await page.locator(place).textContent());

async function answer(id: string, right: boolean): Promise<void> {
  const one = questions.find((question) => question.id === id);
  const option = one?.options.findIndex((each) => (each.right === true) === right) ?? -1;
  const section = page.locator(`[data-question="${id}"]`);
  await section.locator('label.option').nth(option).tap();
  await section.getByRole('button', { name: 'Check the answer' }).tap();
  await section.locator('.verdict strong', { hasText: right ? 'Right.' : 'Not this one.' }).waitFor();
}

async function lessonAnswered(lesson: string): Promise<void> {
  await open(`/learn/${lesson}/`);
  for (const { id } of asked(lesson)) await answer(id, true);
  await page.locator('[data-lesson]').filter({ hasText: 'This lesson is done.' }).waitFor();
}

async function caseCompared({ id, one }: (typeof cases)[number]): Promise<void> {
  await open(`/learn/cases/${id}/`);
  await page.locator('.casework fieldset:enabled').first().waitFor();
  const words = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' } as const;
  for (const mark of one.ask) {
    const result = (['met', 'not-met', 'cannot-tell'] as const).find((each) => one.expected[each]?.includes(mark));
    const place = page.locator(`[data-ask="${mark}"]`);
    await place
      .locator('label.chip')
      .getByText(words[result ?? 'met'], { exact: true })
      .tap();
  }
  await page.getByRole('button', { name: 'Compare' }).tap();
  await page.getByText(`You and the evaluator agree on ${one.ask.length} of ${one.ask.length} criteria.`).waitFor();
}

/** What comes back today, all of it answered. */
async function answerWhatComesBack(id: string, right = true): Promise<void> {
  await open('/learn/');
  await page.getByRole('link', { name: 'One question comes back today' }).tap();
  await page.waitForURL(/\/learn\/again\/$/);
  await page.getByRole('heading', { name: 'Question 1 of 1' }).waitFor();
  expect(await page.locator('[data-question]').filter({ visible: true }).count()).toBe(1);
  await answer(id, right);
  await page.getByRole('button', { name: 'Finish' }).tap();
  await page
    .locator('[data-said]')
    .filter({ hasText: /No questions are left for today|No question comes back/ })
    .waitFor();
}

const nothingBack = async () => {
  await open('/learn/');
  await page.locator('[data-progress]').filter({ hasText: 'lessons done' }).waitFor();
  expect(await page.locator('[data-back]').isVisible()).toBe(false);
};

test('day 1: from the first screen to two lessons; a question is missed, put right at once, and explained', async () => {
  await onDay(1);
  await page.reload();
  await page.getByRole('link', { name: /New to this/ }).tap();
  await page.waitForURL(/\/learn\/$/);
  await page.locator('.path a').first().tap();
  await page.waitForURL(/how-breathing-fails/);
  await answer(missed.id, false);
  await lessonAnswered('how-breathing-fails');
  await page.locator('[data-lesson]').filter({ hasText: 'comes back tomorrow' }).waitFor();
  await lessonAnswered(lessons[1] ?? '');
  await nothingBack();
  expect(await said('[data-progress]')).toContain('2 of 10 lessons done');
});

test('every lesson shows at least one figure with its words, offline', async () => {
  for (const lesson of lessons) {
    await open(`/learn/${lesson}/`);
    const figures = page.locator('figure.drawing');
    expect({ lesson, figures: (await figures.count()) > 0 }).toEqual({ lesson, figures: true });
    const [first] = await figures.all();
    expect((await first?.locator('svg').boundingBox())?.width ?? 0).toBeGreaterThan(250);
  }
});

test('day 2: it comes back, and is remembered; days 3 and 4: it stays away', async () => {
  await onDay(2);
  await answerWhatComesBack(missed.id);
  expect(await said('[data-said]')).toMatch(
    /No questions are left for today. The next question comes back on 4 December 2026/,
  );
  for (const lesson of lessons.slice(2, 4)) await lessonAnswered(lesson);
  for (const day of [3, 4]) {
    await onDay(day);
    await nothingBack();
    for (const lesson of lessons.slice(day === 3 ? 4 : 6, day === 3 ? 6 : 8)) await lessonAnswered(lesson);
  }
});

test('day 5: it comes back after three days; the last lessons, and the first six cases', async () => {
  await onDay(5);
  await answerWhatComesBack(missed.id);
  for (const lesson of lessons.slice(8)) await lessonAnswered(lesson);
  for (const one of cases.slice(0, 6)) await caseCompared(one);
  await open('/learn/');
  expect(await said('[data-progress]')).toContain('10 of 10 lessons done, 6 cases compared');
  await open('/learn/record/');
  expect(await said('[data-summary]')).toBe(
    `Not complete. Still to do: ${cases.length - 6} cases; the mixed check; 1 missed question still to be remembered.`,
  );
});

test('day 6: the mixed check, one question at a time; left in the middle and gone on with; one first answer is wrong', async () => {
  await onDay(6);
  await open('/learn/check/');
  await page.getByRole('button', { name: 'Begin' }).tap();
  let wrong: string | undefined;
  const kinds = new Set<string>();
  for (let at = 1; at <= checkLength; at += 1) {
    await page.getByRole('heading', { name: `Question ${at} of ${checkLength}` }).waitFor();
    const shown = page.locator('[data-question]').filter({ visible: true });
    expect(await shown.count()).toBe(1);
    const id = (await shown.getAttribute('data-question')) ?? '';
    kinds.add((await shown.getAttribute('data-kind')) ?? '');
    if (at === 3) {
      wrong = id;
      await answer(id, false);
    }
    // Put right at once: the first answer counts all the same.
    await answer(id, true);
    if (at === 7) {
      expect(await accessFaults(page)).toEqual([]);
      expect(await overflow(page)).toBeLessThanOrEqual(0);
      await page.reload();
      await page
        .locator('[data-said]')
        .filter({ hasText: `7 of ${checkLength} questions are answered` })
        .waitFor();
      await page.getByRole('button', { name: 'Go on with it' }).tap();
      continue;
    }
    await page.getByRole('button', { name: at < checkLength ? 'Next question' : 'Finish' }).tap();
  }
  await page
    .locator('[data-said]')
    .filter({ hasText: `Done: ${checkLength - 1} of ${checkLength} right` })
    .waitFor();
  expect([...kinds].sort()).toEqual(['curve', 'number', 'picture', 'words']);
  // It comes back the next day, and the day after is missed again: it begins again.
  for (const [day, right] of [
    [7, true],
    [10, false],
    [11, true],
  ] as const) {
    await onDay(day);
    await answerWhatComesBack(wrong ?? '', right);
  }
  await onDay(12);
  await answerWhatComesBack(missed.id);
  for (const day of [14, 21]) {
    await onDay(day);
    await answerWhatComesBack(wrong ?? '');
  }
  expect(await said('[data-said]')).toContain('No question comes back');
});

test('the other cases; only then is the record complete, and it says what was learnt', async () => {
  await open('/learn/record/');
  expect(await said('[data-summary]')).toBe(`Not complete. Still to do: ${cases.length - 6} cases.`);
  for (const one of cases.slice(6)) await caseCompared(one);
  await open('/learn/record/');
  expect(await said('[data-summary]')).toBe(
    `Complete. 10 of 10 lessons done, ${cases.length} of ${cases.length} cases compared.`,
  );
  const rows = page.locator('[data-missed]').filter({ visible: true });
  expect(await rows.count()).toBe(2);
  for (const row of await rows.all()) expect(plain(await row.textContent())).toContain('remembered all three times');
  expect(await said('[data-checks]')).toContain(`5 December 2026: ${checkLength - 1} of ${checkLength} right`);
  expect(plain(await page.locator('[data-lesson-row="how-breathing-fails"]').textContent())).toMatch(
    /2 of 3 ?7 ?30 November 2026/,
  );
  expect(await accessFaults(page)).toEqual([]);
  const paper = printedText(await page.pdf({ format: 'A4' }));
  for (const words of [
    'Complete.',
    'Record of learning',
    'Page 1 of',
    'Supervisor, date, signature',
    'Missed at the first answer',
  ])
    expect(paper).toContain(words.replace(/\s/g, ''));
});

test('nothing went wrong on the way, and nothing was sent anywhere', () => {
  expect(tab.faults.errors).toEqual([]);
  expect(tab.faults.elsewhere).toEqual([]);
});
