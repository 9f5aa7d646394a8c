/** A student's week: the path, its questions, a case, figures that move, paper, and what the device remembers. */
import { globSync, readFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { calculate } from '../../calculators/index.ts';
import type { Case } from '../../calculators/learning/case.ts';
import type { Question } from '../../calculators/learning/question.ts';
import { show } from '../../calculators/quantity.ts';
import type { Progress } from '../../src/learn/progress.ts';
import { accessFaults, overflow, unfold } from './access.ts';
import { browser, server } from './at-hand.ts';
import { installed, openTab, type Tab, wake } from './browser.ts';
import { dist, some } from './built.ts';
import { press, tabTo } from './keys.ts';
import { printedText } from './pdf.ts';
import { serve } from './server.ts';
import { plain } from './sheet.ts';

const questions: Question[] = globSync('content/questions/*.yaml').flatMap((file) => parse(readFileSync(file, 'utf8')));
const caseOf = (id: string): Case => parse(readFileSync(`content/cases/${id}.yaml`, 'utf8'));
const key = 'tidemark:progress';

let tab: Tab;
beforeEach(async () => {
  tab = await openTab(browser, server.root);
});
afterEach(() => tab.context.close());

const questionsOf = (lesson: string): Question[] =>
  questions.filter((question) => question.lesson === lesson && question.in !== 'check');
const question = (page: Page, id: string): Locator => page.locator(`[data-question="${id}"]`);
const place = ({ options }: Question, right: boolean): number =>
  options.findIndex((option) => (option.right === true) === right);
/** As a screen prints it: criteria and facts named in a text are words there. */
const shownWords = (text: string): string => plain(text).split('{')[0]?.trim() ?? '';

async function answerIt(page: Page, one: Question, right: boolean): Promise<string> {
  const section = question(page, one.id);
  await section.locator('label.option').nth(place(one, right)).tap();
  await section.getByRole('button', { name: 'Check the answer' }).tap();
  await section.locator('.verdict p').waitFor();
  return plain(await section.locator('.verdict').textContent());
}

const keptOn = (page: Page): Promise<Progress> =>
  page.evaluate((name) => {
    const { questions = {}, cases = {}, checks = [] } = JSON.parse(localStorage.getItem(name) ?? '{}');
    return { questions, cases, checks };
  }, key);

const answerWords = { met: 'Met', 'not-met': 'Not met', 'cannot-tell': 'Cannot tell' } as const;
const results = ['met', 'not-met', 'cannot-tell'] as const;
const resultOf = (one: Case, mark: string) =>
  results.find((result) => one.expected[result]?.includes(mark)) ?? 'cannot-tell';

/** Every criterion of a case answered, then compared. */
async function answerCase(page: Page, answer: (mark: string) => string): Promise<void> {
  await page.locator('.casework fieldset:enabled').first().waitFor();
  for (const place of await page.locator('[data-ask]').all()) {
    const mark = (await place.getAttribute('data-ask')) ?? '';
    await place.locator('label.chip').getByText(answer(mark), { exact: true }).tap();
  }
  await page.getByRole('button', { name: 'Compare' }).tap();
  await page.locator('.compared').waitFor();
}

describe('a lesson', () => {
  const lesson = 'how-breathing-fails';
  test('a wrong answer is explained and kept as the first; a right one is explained with all the others, and the first stays', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/${lesson}/`));
    const [first] = questionsOf(lesson) as [Question];
    const wrong = await answerIt(page, first, false);
    expect(wrong).toContain('Not this one.');
    expect(wrong).toContain(shownWords(first.options[place(first, false)]?.because ?? ''));
    await page.locator('[data-lesson]').filter({ hasText: '0 of 3 questions answered' }).waitFor();
    await page.locator('[data-lesson]').filter({ hasText: 'A question you missed comes back tomorrow' }).waitFor();
    const right = await answerIt(page, first, true);
    expect(right).toContain('Right.');
    expect(right).toContain(shownWords(first.options[place(first, true)]?.because ?? ''));
    for (const option of first.options)
      expect(plain(await question(page, first.id).locator('details.answers').textContent())).toContain(
        shownWords(option.because),
      );
    expect(await question(page, first.id).locator('details.answers').getAttribute('open')).not.toBe(null);
    const kept = (await keptOn(page)).questions[first.id];
    expect(kept).toMatchObject({ tries: 2, first: { option: place(first, false), right: false } });
    expect(kept?.first?.edition).toMatch(/^\d+\.\d+\.\d+, \d{4}-\d\d-\d\d$/);
    expect(kept?.right).toBe(kept?.first?.day);
    await page.locator('[data-lesson]').filter({ hasText: '1 of 3 questions answered' }).waitFor();
  });

  test('asking for a check without an answer says so, and nothing else happens', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/${lesson}/`));
    const [first] = questionsOf(lesson) as [Question];
    await question(page, first.id).getByRole('button', { name: 'Check the answer' }).tap();
    expect(await question(page, first.id).locator('.verdict').textContent()).toBe('Choose an answer first.');
    expect(await page.evaluate(() => localStorage.length)).toBe(0);
  });

  test('a whole lesson by keyboard alone: three questions, then on to the next lesson; the path says that it is done', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/${lesson}/`));
    for (const one of questionsOf(lesson)) {
      await tabTo(page, ({ name }) => name === one.id);
      // The first Tab into a group of radio buttons stands on its first; arrows move and choose.
      await page.keyboard.press('Space');
      for (let step = 0; step < place(one, true); step += 1) await page.keyboard.press('ArrowDown');
      await press(page, 'Check the answer');
      await question(page, one.id).locator('.verdict p.right').waitFor();
    }
    await page.locator('[data-lesson]').filter({ hasText: 'This lesson is done.' }).waitFor();
    await press(page, /Next: /);
    await page.waitForURL(/\/learn\/lungs-bellows-and-cough\/$/);
    await page.goto(server.at('/learn/'));
    expect(await page.locator('.path a').first().textContent()).toMatch(/done \d+ \S+ \d{4}/);
    expect(plain(await page.locator('[data-progress]').textContent())).toContain('1 of 10 lessons done');
  });

  test('one tap clears what the device remembers, and the button goes with it', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/${lesson}/`));
    await answerIt(page, (questionsOf(lesson) as [Question])[0], true);
    await page.goto(server.at('/learn/'));
    await page.getByRole('button', { name: 'Clear my progress' }).tap();
    expect(await page.evaluate((name) => localStorage.getItem(name), key)).toBe(null);
    expect(await page.getByRole('button', { name: 'Clear my progress' }).isVisible()).toBe(false);
    expect(await page.locator('[data-cleared]').textContent()).toContain('Cleared');
  });

  test('progress that cannot be read counts as none, and breaks nothing', async () => {
    const { page, faults } = tab;
    await page.goto(server.at('/learn/'));
    for (const broken of ['{', 'null', '[]', '{"questions":{"a":1}}', '{"cases":"x"}', '{"checks":[{"ids":1}]}']) {
      await page.evaluate(([name, text]) => localStorage.setItem(name as string, text as string), [key, broken]);
      await page.reload();
      expect(plain(await page.locator('[data-progress]').textContent())).toContain('0 of 10 lessons done');
    }
    expect(faults.errors).toEqual([]);
  });

  test('with its scripts refused: questions cannot be checked and say so, every answer is explained, figures and sums stand', async () => {
    const { page } = tab;
    await tab.context.route('**/*.js', (route) => route.abort());
    await page.goto(server.at('/learn/lungs-bellows-and-cough/'));
    for (const section of await page.locator('.question').all()) {
      expect(await section.locator('fieldset').evaluate((element) => (element as HTMLFieldSetElement).disabled)).toBe(
        true,
      );
      expect(await section.locator('.waiting').isVisible()).toBe(true);
      await section.locator('.answers > summary').tap();
      expect(await section.locator('li').count()).toBeGreaterThanOrEqual(3);
      expect(await section.locator('li').first().isVisible()).toBe(true);
    }
    const figure = page.locator('.moving').first();
    for (const control of await figure.locator('input').all()) expect(await control.isDisabled()).toBe(true);
    // By hand: 250 x 28 is 7 L/min; (250 - 150) x 28 is 2.8 L/min.
    expect(plain(await figure.locator('table').textContent())).toContain('2.8 L/min');
    expect(plain(await page.locator('.sum').first().textContent())).toContain('1.8 L/min');
  });
});

describe('a case', () => {
  const id = 'three-pillows';
  const one = caseOf(id);

  test('by keyboard alone: every criterion predicted, two things ticked, compared with findings computed on the spot', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/cases/${id}/`));
    await wake(page);
    await page.locator('.casework fieldset:enabled').first().waitFor();
    for (const mark of one.ask) {
      const expected = results.findIndex((result) => one.expected[result]?.includes(mark));
      await tabTo(page, ({ id, name }) => [id, name].some((one) => one.endsWith(`-${mark}`)));
      await page.keyboard.press('Space');
      for (let step = 0; step < expected; step += 1) await page.keyboard.press('ArrowRight');
    }
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    await press(page, /^Compare/);
    await page.locator('.compared').waitFor();
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Compared');
    expect(plain(await page.locator('.compared').textContent())).toContain(
      `agree on ${one.ask.length} of ${one.ask.length} criteria`,
    );
    for (const result of results)
      for (const mark of one.expected[result] ?? [])
        expect(await page.locator(`[data-finding="${mark}"]`).getAttribute('class')).toBe(`finding ${result}`);
    expect(plain(await page.locator('.compared').textContent())).toContain(
      'flagged: leak at mask or mouthpiece, which reads low',
    );
    expect(await page.locator('[data-reasons]').getAttribute('open')).not.toBe(null);
    for (const { because } of one.arrange)
      expect(plain(await page.locator('[data-reasons]').textContent())).toContain(shownWords(because));
    await page.waitForFunction((name) => (localStorage.getItem(name) ?? '').includes('three-pillows'), key);
  });

  test('nothing is compared, and nothing told, before every criterion has an answer', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/cases/${id}/`));
    await wake(page);
    for (const folded of ['[data-findings]', '[data-reasons]'])
      expect(await page.locator(folded).isVisible()).toBe(false);
    await page.getByRole('button', { name: 'Compare' }).tap();
    await page.getByText(`First answer every criterion: ${one.ask.length} are left.`).waitFor();
    expect(await page.locator('.compared').count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.closest('[data-ask]')?.getAttribute('data-ask'))).toBe(
      one.ask[0],
    );
    expect((await keptOn(page)).cases[id]).toBeUndefined();
  });

  test('an answer that differs is marked, with the reason part by part, and kept as the first', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/cases/${id}/`));
    await wake(page);
    // 'Cannot tell' everywhere: right where the case expects it, different in the others.
    await answerCase(page, () => 'Cannot tell');
    const open = one.expected['cannot-tell'] ?? [];
    expect(await page.locator('[data-differs]').count()).toBe(one.ask.length - open.length);
    for (const mark of open)
      expect(await page.locator(`[data-finding="${mark}"]`).getAttribute('data-differs')).toBe(null);
    const symptoms = page.locator('[data-finding="nice-mnd-fvc-lt-80-with-symptoms"]');
    expect(plain(await symptoms.locator('.own-answer').textContent())).toBe('Different. You said: cannot tell.');
    expect(plain(await symptoms.locator('ul.why').textContent())).toMatch(/reads below 80 % predicted.* true/);
    await page.getByRole('button', { name: 'Try it again' }).tap();
    await answerCase(page, (mark) => answerWords[resultOf(one, mark)]);
    expect(await page.locator('[data-differs]').count()).toBe(0);
    expect((await keptOn(page)).cases[id]).toMatchObject({ agreed: open.length, of: one.ask.length, tries: 2 });
  });

  test('nothing about arranging is called right or wrong', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/cases/${id}/`));
    await wake(page);
    await answerCase(page, () => 'Met');
    expect(plain(await page.locator('.compared').textContent())).not.toMatch(
      /\b(correct|wrong|incorrect|score|points)\b/i,
    );
    // What could be arranged: a reason each and how well it is known, and no verdict beside any.
    for (const reason of await page.locator('[data-reasons] li').all())
      expect(
        plain(
          await reason
            .locator('.small')
            .allTextContents()
            .then((texts) => texts.join(' ')),
        ),
      ).toMatch(/^\[(read at source|read in a summary|common practice|not yet checked)\]$/);
    await page.getByRole('button', { name: 'Try it again' }).tap();
    expect(await page.locator('.compared').count()).toBe(0);
  });

  test.each(some(/^\/learn\/cases\/[^/]+\/$/).map((path) => path.split('/')[3] ?? ''))(
    '%s: the findings computed here are the expected ones',
    async (name) => {
      const { page } = tab;
      await page.goto(server.at(`/learn/cases/${name}/`));
      await wake(page);
      await answerCase(page, () => 'Met');
      const found = await page
        .locator('li[data-finding]')
        .evaluateAll((items) =>
          items.map((item) => [item.getAttribute('data-finding'), item.className.replace('finding ', '')]),
        );
      const expected = caseOf(name).ask.map((mark) => [
        mark,
        (['met', 'not-met', 'cannot-tell'] as const).find((result) => caseOf(name).expected[result]?.includes(mark)),
      ]);
      expect(found).toEqual(expected);
    },
  );

  test('touches neither the person in hand nor anything kept about one', async () => {
    const { page } = tab;
    await page.goto(server.at(`/learn/cases/${id}/`));
    await wake(page);
    await answerCase(page, () => 'Met');
    expect(await page.evaluate(() => sessionStorage.length)).toBe(0);
    expect(await page.locator('[data-person]').isVisible()).toBe(false);
  });

  test('with its scripts refused, nothing can be chosen and the findings can be read', async () => {
    const { page } = tab;
    await tab.context.route('**/*.js', (route) => route.abort());
    await page.goto(server.at(`/learn/cases/${id}/`));
    expect(await page.locator('.casework .waiting').isVisible()).toBe(true);
    for (const control of await page.locator('.casework input, .casework button').all())
      expect(await control.isDisabled()).toBe(true);
    await page.locator('.answers > summary').tap();
    expect(await page.locator('.answers .finding').count()).toBe(one.ask.length);
    expect(await page.locator('.answers .finding').first().isVisible()).toBe(true);
  });
});

describe('figures that move', () => {
  test('the arrow keys move a slider, and picture, sentence and table follow with the numbers of the calculator', async () => {
    const { page } = tab;
    await page.goto(server.at('/learn/see-it-move/'));
    await wake(page);
    const figure = page.locator('.moving', { hasText: 'Where a small breath goes' });
    const before = await figure.locator('svg circle').getAttribute('cy');
    await figure.getByLabel('One breath').focus();
    for (let press = 0; press < 5; press += 1) await page.keyboard.press('ArrowRight');
    const answer = calculate('minute-ventilation', { breath: 300, rate: 28, deadSpace: 150 });
    const alveolar =
      answer.ok && answer.results.alveolar ? plain(show(answer.results.alveolar.value, 'L/min', 1)) : 'none';
    expect(plain(await figure.locator('tbody tr').first().textContent())).toContain(alveolar);
    expect(plain(await figure.textContent())).toContain(`${alveolar} reaches the lungs`);
    expect(await figure.getByLabel('One breath').getAttribute('aria-valuetext')).toBe('300\u00a0mL');
    expect(await figure.locator('svg circle').getAttribute('cy')).not.toBe(before);
  });

  test('each has its numbers in a table, and a warning before oxygen', async () => {
    const { page } = tab;
    await page.goto(server.at('/learn/see-it-move/'));
    await wake(page);
    const figures = page.locator('.moving');
    expect(await figures.count()).toBe(7);
    for (const figure of await figures.all()) expect(await figure.locator('tbody tr').count()).toBeGreaterThan(1);
    const oxygen = page.locator('.moving', { hasText: 'One flow, many mixtures' });
    const order = await oxygen.evaluate((element) => {
      const care = element.querySelector('.care');
      const input = element.querySelector('input');
      return (
        care !== null &&
        input !== null &&
        (care.compareDocumentPosition(input) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0
      );
    });
    expect(order).toBe(true);
  });
});

describe('on paper', () => {
  const sheets = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

  test.each(some(/^\/learn\/pocket\/[^/]+\/$/))('%s is one page, with its date, without menus', async (path) => {
    const { page } = tab;
    await page.goto(server.at(path));
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    expect(await page.locator('time').first().isVisible()).toBe(true);
    expect(await page.locator('.ways').isVisible()).toBe(false);
    expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0);
    expect(sheets(await page.pdf({ preferCSSPageSize: true }))).toBe(1);
  });

  test('the record prints the typed names, first answers and days, says what is left, numbers its pages, keeps no name', async () => {
    const { page } = tab;
    await page.goto(server.at('/learn/how-breathing-fails/'));
    const [missed, ...others] = questionsOf('how-breathing-fails') as [Question, ...Question[]];
    await answerIt(page, missed, false);
    for (const one of [missed, ...others]) await answerIt(page, one, true);
    await page.goto(server.at('/learn/record/'));
    await page.getByLabel('Student').fill('A Student');
    await page.getByLabel('Supervisor').fill('A Supervisor');
    expect(plain(await page.locator('[data-summary]').textContent())).toBe(
      'Not complete. Still to do: 9 lessons; 28 cases; the mixed check; 1 missed question still to be remembered.',
    );
    const row = page.locator('[data-lesson-row="how-breathing-fails"]');
    expect(plain(await row.locator('[data-first]').textContent())).toBe('2 of 3');
    expect(plain(await row.locator('[data-tries]').textContent())).toBe('4');
    expect(plain(await row.locator('[data-done]').textContent())).toMatch(/^\d+ \S+ \d{4}$/);
    const shown = page.locator('[data-missed]').filter({ visible: true });
    expect(await shown.count()).toBe(1);
    expect(plain(await shown.textContent())).toContain(shownWords(missed.options[place(missed, false)]?.text ?? ''));
    expect(plain(await shown.textContent())).toContain('0 of 3 times remembered');
    const todo = page.locator('[data-lesson-row="reading-the-marks"] [data-done]');
    expect(plain(await todo.textContent())).toBe('Not done: 0 of 3 answered');
    // What a preceptor asks next: of this lesson, and of no other.
    const discuss = page.locator('[data-discuss-of]').filter({ visible: true });
    expect(await discuss.evaluateAll((all) => all.map((one) => one.getAttribute('data-discuss-of')))).toEqual([
      'how-breathing-fails',
    ]);
    await page.emulateMedia({ media: 'print' });
    expect(await page.getByLabel('Student').isVisible()).toBe(true);
    const pdf = await page.pdf({ format: 'A4' });
    expect(sheets(pdf)).toBeLessThanOrEqual(3);
    const paper = printedText(pdf);
    for (const words of [
      'Record of learning',
      'A Student',
      'A Supervisor',
      `Page 1 of ${sheets(pdf)}`,
      `Page ${sheets(pdf)} of ${sheets(pdf)}`,
      'Student, date, signature',
      'Supervisor, date, signature',
    ])
      expect(paper).toContain(words.replace(/\s/g, ''));
    expect(paper).not.toMatch(/completion/i);
    expect(await page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }))).not.toMatch(
      /A Student|A Supervisor/,
    );
    await page.emulateMedia({ media: 'screen' });
    await page.reload();
    expect(await page.getByLabel('Student').inputValue()).toBe('');
  });

  test.each([
    ['answers', 20],
    ['handout', 5],
    ['class-list', 2],
    ['objectives', 2],
  ])("the teacher's %s print on at most %d pages, each with its number", async (paper, most) => {
    const { page } = tab;
    await page.goto(server.at(`/learn/teacher/${paper}/`));
    const pdf = await page.pdf({ format: 'A4' });
    expect(sheets(pdf)).toBeLessThanOrEqual(most);
    expect(printedText(pdf)).toContain(`Page${sheets(pdf)}of${sheets(pdf)}`);
  });

  test('the answers hold the right answer to every question, and the points of every lesson', async () => {
    const { page } = tab;
    await page.goto(server.at('/learn/teacher/answers/'));
    const text = plain(await page.locator('main').textContent());
    for (const one of questions) expect(text).toContain(shownWords(one.options[place(one, true)]?.text ?? ''));
    expect(await page.getByRole('heading', { name: 'Points to discuss', level: 3 }).count()).toBe(10);
  });

  test('a lesson prints its questions with every answer explained; a case prints its answers on a page of their own', async () => {
    const { page } = tab;
    await page.goto(server.at('/learn/oxygens-trap/'));
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.question li').first().isVisible()).toBe(true);
    expect(await page.locator('.question button').first().isVisible()).toBe(false);
    await page.goto(server.at('/learn/cases/every-line/'));
    expect(await page.locator('.answers').evaluate((element) => getComputedStyle(element).breakBefore)).toBe('page');
    expect(sheets(await page.pdf({ format: 'A4' }))).toBeLessThanOrEqual(4);
  });
});

describe('each kind of page', () => {
  test.each([
    '/learn/',
    '/learn/how-breathing-fails/',
    '/learn/see-it-move/',
    '/learn/cases/',
    '/learn/cases/every-line/',
    '/learn/pocket/',
    '/learn/pocket/marks-als/',
    '/learn/pocket/technique/',
    '/learn/pocket/units/',
    '/learn/teacher/',
    '/learn/teacher/answers/',
    '/learn/teacher/handout/',
    '/learn/teacher/class-list/',
    '/learn/teacher/objectives/',
    '/learn/check/',
    '/learn/record/',
  ])('%s passes the accessibility check with everything opened, and fits 320 pixels', async (path) => {
    const { page, faults } = tab;
    await page.goto(server.at(path));
    await wake(page);
    if (path.includes('every-line')) {
      await answerCase(page, () => 'Met');
    }
    await unfold(page);
    expect(await accessFaults(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await accessFaults(page)).toEqual([]);
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(faults).toEqual({ errors: [], policy: [], elsewhere: [] });
  });
});

test('a new student, on a phone, with the signal gone: from the first screen to the end of lesson three, and two cases', async () => {
  const own = await serve(dist);
  const { page, context, faults } = await openTab(browser, own.root, { serviceWorkers: 'allow' });
  await page.goto(own.root);
  await installed(page);
  await own.stop();
  await page.reload();
  await page.getByRole('link', { name: /New to this/ }).tap();
  await page.waitForURL(/\/learn\/$/);
  await page.locator('.path a').first().tap();
  for (const lesson of ['how-breathing-fails', 'lungs-bellows-and-cough', 'what-we-measure-and-how-it-lies']) {
    await page.waitForURL(new RegExp(`/learn/${lesson}/$`));
    for (const one of questionsOf(lesson)) expect(await answerIt(page, one, true)).toContain('Right.');
    await page.locator('[data-lesson]').filter({ hasText: 'This lesson is done.' }).waitFor();
    for (const slider of await page.locator('.moving input[type=range]').all()) {
      await slider.scrollIntoViewIfNeeded();
      await slider.and(page.locator(':enabled')).waitFor();
    }
    const before = page.url();
    await page.getByRole('link', { name: /^Next: / }).tap();
    await page.waitForURL((url) => url.href !== before);
  }
  await page.goto(own.at('/learn/'));
  await page
    .locator('main')
    .getByRole('link', { name: /^Cases/ })
    .tap();
  for (const turn of [1, 2]) {
    if (turn === 1) await page.locator('[data-case]').first().tap();
    await answerCase(page, () => 'Met');
    if (turn === 1) {
      await page.getByRole('link', { name: 'Next case' }).tap();
      await page.waitForURL(/every-line/);
      await wake(page);
    }
  }
  await page.goto(own.at('/learn/'));
  expect(plain(await page.locator('[data-progress]').textContent())).toContain(
    '3 of 10 lessons done, 2 cases compared',
  );
  expect(faults.errors).toEqual([]);
  await context.close();
});
