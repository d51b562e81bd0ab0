import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// A play that players learn is taken out of the book, and put back.

const play = 'Lantern, doubles right';
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let dana: Seat;
let eli: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  [dana, eli] = await Promise.all([
    seat(browser, stemline.url),
    seat(browser, stemline.url, { size: 'phone' }),
  ]);
  await signInAs(dana.page, 'dana');
  await signInAs(eli.page, 'eli');
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

const chooseArchive = async (name: string): Promise<void> => {
  await dana.page.getByRole('button', { name: `More for ${name}` }).click();
  await dana.page.getByRole('menuitem', { name: 'Archive' }).click();
};

it('asks before players lose a play, tells who has its address, and takes it back with one click', async () => {
  await eli.page.getByRole('link', { name: play }).click();
  await eli.page.getByRole('heading', { name: 'The play as it was signed' }).waitFor();

  await chooseArchive(play);
  const asked = dana.page.getByRole('dialog', { name: `Archive ${play}?` });
  await asked.getByText(/Players lose it/).waitFor();
  await asked.getByRole('button', { name: 'Cancel' }).click();
  await asked.waitFor({ state: 'detached' });
  expect(await dana.page.getByRole('link', { name: play, exact: true }).count()).toBe(1);

  await chooseArchive(play);
  await asked.getByRole('button', { name: 'Archive' }).click();
  await dana.page.getByText(`${play} is archived`).waitFor();
  await eli.page.reload();
  await eli.page.getByText('No longer in the book').waitFor();
  expect(await eli.page.getByRole('img', { name: /, drawn$/ }).count()).toBe(0);

  await dana.page.getByRole('button', { name: 'Undo' }).click();
  await dana.page.getByText(`${play} is back in the book`).waitFor();
  await dana.page.getByRole('link', { name: play, exact: true }).waitFor();
  await eli.page.reload();
  await eli.page.getByRole('heading', { name: 'The play as it was signed' }).waitFor();
});

it('archives at once what no player has, and takes that back too', async () => {
  const working = 'Anvil, bunch';
  await chooseArchive(working);
  await dana.page.getByText(`${working} is archived`).waitFor();
  await dana.page.getByRole('button', { name: 'Undo' }).click();
  await dana.page.getByRole('link', { name: working, exact: true }).waitFor();
});
