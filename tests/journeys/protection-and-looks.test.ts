import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { openPlay, saved, section, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// A coordinator calls a protection and a drop; an assistant reads it; a look is drawn by hand, refused
// where it is no defence, kept, moved on the shelf, and stood before a play.

const play = 'Lantern, doubles right';
const look = 'Heron, nickel off the slot and a very long name';
const slow = { timeout: 60_000 };
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let marcus: Seat;
let tomas: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  [marcus, tomas] = await Promise.all([
    seat(browser, stemline.url),
    seat(browser, stemline.url, { size: 'phone' }),
  ]);
  marcus.page.setDefaultTimeout(60_000);
  tomas.page.setDefaultTimeout(60_000);
  await signInAs(marcus.page, 'marcus');
  await signInAs(tomas.page, 'tomas');
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

const call = (page: Seat['page']) => page.getByRole('region', { name: 'Call' });

it('calls a protection and a drop, and both coaches see who comes free', async () => {
  const { page } = marcus;
  await openPlay(page, play);
  await section(page, 'Protection');
  const counts = page.getByText(/^\d+ looks: /);
  await counts.waitFor();
  const before = await counts.textContent();
  await page
    .getByRole('combobox', { name: 'Protection', exact: true })
    .selectOption({ value: 'five-half' });
  await call(page).getByText('The center and the right side slide right.').waitFor();
  await call(page).getByText('left', { exact: true }).click();
  await call(page).getByText('The center and the left side slide left.').waitFor();
  await page.getByLabel('Drop of the passer').selectOption({ value: 'gun-three-step' });
  await call(page).getByText('the ball is out 2.1 to 2.5 s').waitFor();
  expect(await counts.textContent()).not.toBe(before);

  await page.getByText('Over, six-man pressure, no one deep').click();
  await page.getByRole('list', { name: 'Who blocks whom' }).getByText('nobody').first().waitFor();
  await page.getByText(/^E is free; he is on Q at \d\.\d s/).waitFor();
  await saved(page);

  await openPlay(tomas.page, play);
  await section(tomas.page, 'Protection');
  await call(tomas.page).getByText('Protection: Five men, half slide, to the left.').waitFor();
  expect(await tomas.page.getByLabel('Drop of the passer').count()).toBe(0);
});

it('changes what the rule check finds with the drop, and undo takes it back', async () => {
  const { page } = marcus;
  // No passer throws these routes off one step: the throws are late, or the drop does not start where he stands.
  await page.getByLabel('Drop of the passer').selectOption({ value: 'gun-catch-and-throw' });
  await section(page, 'Findings');
  await page.getByRole('list', { name: 'Findings' }).getByText(/Late/).first().waitFor(slow);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await page
    .getByRole('list', { name: 'Findings' })
    .getByText(/Late/)
    .first()
    .waitFor({ state: 'detached', ...slow });
  await saved(page);
});

it('tells the call in the history, by whom, and in words where it is sent up', async () => {
  const { page } = marcus;
  await section(page, 'Sign-off');
  await page.getByLabel('Message to the head coach').fill('The half slide goes left.');
  await page.getByRole('button', { name: 'Send up for sign-off' }).click();
  await page
    .getByText(/The protection is now “Five men, half slide”, to the left \(was not called\)/)
    .first()
    .waitFor();
  await page
    .getByText(/The passer’s drop is now “3-step from the shotgun”/)
    .first()
    .waitFor();
  await page.getByRole('button', { name: 'More for this board' }).click();
  await page.getByRole('menuitem', { name: 'History' }).click();
  await page
    .getByRole('link', { name: /Marcus Oyelaran/ })
    .first()
    .click();
  await page.getByText(/Protection: Five men, half slide, to the left\. Drop: 3-step/).waitFor();
});

it('refuses a drawing that is no defence, and keeps one that is', async () => {
  const { page } = marcus;
  await page.goto('/');
  await page.getByRole('link', { name: 'Look shelf' }).click();
  await page.getByRole('button', { name: 'Draw a look' }).click();
  const editor = page.getByRole('dialog', { name: 'Draw a look' });
  await editor.getByRole('button', { name: 'Save look' }).click();
  await editor.getByText('This cannot be kept yet. Give the look a name.').waitFor();
  await editor.getByLabel('Name').fill(look);
  await editor.getByRole('button', { name: 'Add a man' }).click();
  await editor.getByRole('button', { name: 'Save look' }).click();
  await editor.getByText(/This cannot be kept yet\. The look has 12 men/).waitFor();
  // Escape throws nothing of it away by itself, and taken back it goes on.
  await page.keyboard.press('Escape');
  await asking(page).waitFor();
  await page.keyboard.press('Escape');
  await asking(page).waitFor({ state: 'hidden' });
  await editor.getByRole('button', { name: 'Undo' }).click();

  const nickel = editor.getByRole('button', { name: /^NB, second level/ });
  const before = await nickel.getAttribute('aria-label');
  const box = await nickel.boundingBox();
  if (!box) throw new Error('the nickel is not on the board');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 20, box.y + box.height / 2 - 10, { steps: 4 });
  await page.mouse.up();
  expect(await nickel.getAttribute('aria-label')).not.toBe(before);
  await nickel.press('ArrowUp');
  await editor
    .getByRole('list', { name: 'What places each man' })
    .getByRole('button', { name: /^NB.*follows the (receiver|formation|line)/ })
    .waitFor();
  await editor.getByLabel('Before other formations he stands').selectOption({
    label: await fixedOption(editor.getByLabel('Before other formations he stands')),
  });
  await editor.getByRole('button', { name: /^NB.*is fixed to the ball and the field/ }).waitFor();
  await editor.getByRole('button', { name: 'Save look' }).click();
  await editor.waitFor({ state: 'hidden', ...slow });
  await page.getByRole('heading', { name: look }).waitFor();
});

it('throws a drawing away when told to, and asks nothing where nothing was drawn', async () => {
  const { page } = marcus;
  const editor = page.getByRole('dialog', { name: 'Draw a look' });
  for (const draws of [false, true]) {
    await page.getByRole('button', { name: 'Draw a look' }).click();
    await editor.waitFor();
    if (draws) await editor.getByRole('button', { name: 'Add a man' }).click();
    await page.keyboard.press('Escape');
    if (draws) await asking(page).getByRole('button', { name: 'Throw it away' }).click();
    await editor.waitFor({ state: 'hidden' });
  }
});

const asking = (page: Seat['page']) =>
  page.getByRole('dialog', { name: 'Throw away what you changed?' });

const fixedOption = async (select: ReturnType<Seat['page']['getByLabel']>): Promise<string> => {
  const labels = await select.locator('option').allTextContents();
  const fixed = labels.find((label) => label.includes('is fixed to the ball'));
  if (!fixed) throw new Error(`no fixed place among ${labels.join('; ')}`);
  return fixed;
};

it('moves it on the shelf, and stands it before a play', async () => {
  const { page } = marcus;
  await page.getByRole('button', { name: `More for ${look}` }).click();
  await page.getByRole('menuitem', { name: 'Move it one earlier' }).click();
  await page.getByRole('status').getByText(`${look} is now behind`, { exact: false }).waitFor();
  const names = await page
    .getByRole('list', { name: 'Looks' })
    .getByRole('heading')
    .allTextContents();
  expect(names.indexOf(look)).toBe(names.length - 2);
  await page.goto('/');
  await openPlay(page, play);
  await section(page, 'Looks');
  await page.getByText(look).click();
  await page.getByRole('button', { name: `Take ${look} off the board` }).waitFor();
});

it('left no uncaught error', () => {
  const complaints = [marcus, tomas]
    .flatMap((one) => one.complaints)
    .filter((text) => !/status of (401|403)/.test(text));
  expect(complaints).toEqual([]);
});
