import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { openPlay, saved, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// Two people nobody has heard of start a staff of their own beside the demo's. Invented names.

const dataDir = demoDataDir();
const password = 'a long enough word';
let stemline: Running;
let browser: Browser;
let nora: Seat;
let idris: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  nora = await seat(browser, stemline.url);
  idris = await seat(browser, stemline.url, { size: 'tablet' });
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

async function createAccount({ page }: Seat, name: string, email: string): Promise<void> {
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Create account' }).click();
}

it('starts a staff and draws its first play', async () => {
  await nora.page.goto('/create-account');
  await createAccount(nora, 'Nora Quist', 'nora@birchhollow.example');
  await nora.page.getByLabel('Name of the staff').fill('Birch Hollow Otters');
  await nora.page.getByRole('button', { name: 'Start this staff' }).click();
  await nora.page.getByRole('button', { name: 'Draw the first play' }).click();
  const form = nora.page.getByRole('dialog', { name: 'New play' });
  await form.getByLabel('Name', { exact: true }).fill('Otter one');
  await form.getByText('Bunch, 3x1', { exact: true }).click();
  await form.getByRole('button', { name: 'Create play' }).click();
  await nora.page.getByRole('group', { name: 'Play board: Otter one' }).waitFor();
  await saved(nora.page);
  expect(
    await nora.page
      .getByRole('group', { name: 'Play board: Otter one' })
      .getByRole('button')
      .count(),
  ).toBe(11);
});

it('sees nothing of another staff, by any address', async () => {
  const dana = await seat(browser, stemline.url);
  await signInAs(dana.page, 'dana');
  const theirs = dana.page.url();
  await openPlay(dana.page, 'Anvil, bunch');
  const theirBoard = dana.page.url();
  await nora.page.goto(theirBoard);
  await nora.page.getByText('There is no such board.').waitFor();
  await nora.page.goto(theirs);
  await nora.page.getByRole('heading', { name: 'Nothing at this address' }).waitFor();
  await dana.context.close();
});

it('lets in whoever holds a link, once', async () => {
  await nora.page.goto('/');
  await nora.page.getByRole('link', { name: 'Staff', exact: true }).click();
  await nora.page.getByRole('button', { name: 'Invite' }).click();
  const form = nora.page.getByRole('dialog', { name: 'Invite by link' });
  await form.getByLabel('Role').selectOption({ label: 'Coordinator' });
  await form.getByRole('button', { name: 'Make link' }).click();
  const link = await nora.page.getByLabel('Invitation link').inputValue();
  expect(link).toContain('/join/');

  await idris.page.goto(link);
  await idris.page.getByText('Birch Hollow Otters').first().waitFor();
  await idris.page.getByRole('link', { name: 'Create account' }).click();
  await createAccount(idris, 'Idris Vale', 'idris@birchhollow.example');
  await idris.page.getByRole('button', { name: 'Accept invitation' }).click();
  await idris.page.getByRole('link', { name: 'Otter one' }).waitFor();

  const third = await seat(browser, stemline.url);
  await third.page.goto(link);
  await third.page
    .getByText(/used|accepted|no longer|not good/i)
    .first()
    .waitFor();
  await third.context.close();
});

it('shows one coach what the other draws, on different machines', async () => {
  await nora.page.goto('/');
  await openPlay(nora.page, 'Otter one');
  await openPlay(idris.page, 'Otter one');
  await nora.page.getByRole('button', { name: /^X, receiver/ }).focus();
  await nora.page.keyboard.press('ArrowUp');
  const where = await nora.page
    .getByRole('button', { name: /^X, receiver/ })
    .getAttribute('aria-label');
  await idris.page.getByRole('button', { name: where ?? '', exact: true }).waitFor();
});

it('ends the session everywhere when asked to', async () => {
  const second = await nora.context.newPage();
  await second.goto('/');
  await nora.page.getByRole('button', { name: /^Account/ }).click();
  await nora.page.getByRole('menuitem', { name: 'Sign out everywhere' }).click();
  await nora.page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await second.reload();
  await second.getByRole('heading', { name: 'Sign in' }).waitFor();
  // What lies behind it would draw once a second.
  await second.close();
});

it('takes a removed coach off the board while he is on it', async () => {
  await nora.page.getByLabel('E-mail').fill('nora@birchhollow.example');
  await nora.page.getByLabel('Password', { exact: true }).fill(password);
  await nora.page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await nora.page.getByRole('link', { name: 'Staff', exact: true }).click();
  await nora.page.getByRole('button', { name: 'More for Idris Vale' }).click();
  await nora.page.getByRole('menuitem', { name: 'Remove from staff' }).click();
  await nora.page
    .getByRole('dialog')
    .getByRole('button', { name: /remove/i })
    .click();
  await idris.page
    .getByText(/What you may do here has changed|There is no such board/)
    .first()
    .waitFor();
  expect(
    (await idris.page.request.get(idris.page.url().replace('/boards/', '/api/boards/'))).status(),
  ).toBe(404);
});
