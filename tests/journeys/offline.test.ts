import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { openPlay, saved, section, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// The worst moments: the network goes, the server dies, the page is closed. Nothing drawn is lost.

const play = 'Lantern, doubles right';
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let marcus: Seat;
let ruth: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  marcus = await seat(browser, stemline.url);
  ruth = await seat(browser, stemline.url);
  await signInAs(marcus.page, 'marcus');
  await signInAs(ruth.page, 'ruth');
  await openPlay(marcus.page, play);
  await openPlay(ruth.page, play);
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

const player = (page: Seat['page'], label: string) =>
  page.getByRole('button', { name: new RegExp(`^${label}, `) });
const where = async (page: Seat['page'], label: string): Promise<string> =>
  (await player(page, label).getAttribute('aria-label')) ?? '';

async function nudge(page: Seat['page'], label: string, key: string, times: number): Promise<void> {
  await player(page, label).focus();
  for (let i = 0; i < times; i++) await page.keyboard.press(key);
}

it('goes on offline, says so, and merges on return', async () => {
  await marcus.context.setOffline(true);
  await marcus.page
    .getByRole('status')
    .getByText(/offline/i)
    .waitFor();
  await nudge(marcus.page, 'X', 'ArrowLeft', 3);
  await nudge(ruth.page, 'Z', 'ArrowRight', 2);
  const x = await where(marcus.page, 'X');
  const z = await where(ruth.page, 'Z');
  expect(await where(ruth.page, 'X')).not.toBe(x);

  await marcus.context.setOffline(false);
  await ruth.page.getByRole('button', { name: x, exact: true }).waitFor();
  await marcus.page.getByRole('button', { name: z, exact: true }).waitFor();
  await saved(marcus.page);
});

it('keeps what was drawn offline over a closed page', async () => {
  await marcus.context.setOffline(true);
  await marcus.page
    .getByRole('status')
    .getByText(/offline/i)
    .waitFor();
  await nudge(marcus.page, 'A', 'ArrowLeft', 4);
  const a = await where(marcus.page, 'A');
  await marcus.page
    .getByRole('status')
    .getByText(/kept here/)
    .waitFor();
  const address = marcus.page.url();
  await marcus.page.close({ runBeforeUnload: false });

  await marcus.context.setOffline(false);
  const again = await marcus.context.newPage();
  await again.goto(address);
  await again.getByRole('button', { name: a, exact: true }).waitFor();
  await ruth.page.getByRole('button', { name: a, exact: true }).waitFor();
  marcus = { ...marcus, page: again };
});

it('loses nothing said to be saved when the server is killed, and takes the rest on return', async () => {
  await nudge(ruth.page, 'H', 'ArrowRight', 2);
  await saved(ruth.page);
  const h = await where(ruth.page, 'H');
  const { port } = new URL(stemline.url);
  await stemline.kill();
  await ruth.page
    .getByRole('status')
    .getByText(/offline|connecting/i)
    .waitFor();
  await nudge(ruth.page, 'F', 'ArrowRight', 3);
  const f = await where(ruth.page, 'F');

  stemline = await startStemline(dataDir, { PORT: port });
  for (const label of [h, f]) {
    await marcus.page
      .getByRole('button', { name: label, exact: true })
      .waitFor({ timeout: 60_000 });
  }
  await saved(ruth.page);
  await ruth.page.reload();
  for (const label of [h, f])
    await ruth.page.getByRole('button', { name: label, exact: true }).waitFor();
});

it('lets both write in the notes at once', async () => {
  await section(marcus.page, 'Notes');
  await section(ruth.page, 'Notes');
  const notes = (page: Seat['page']) => page.getByRole('textbox', { name: 'Install notes' });
  await Promise.all([
    notes(marcus.page)
      .getByText('Day 1')
      .click()
      .then(() => marcus.page.keyboard.press('End'))
      .then(() => marcus.page.keyboard.type(' Marcus was here.')),
    notes(ruth.page)
      .getByText('Day 2')
      .click()
      .then(() => ruth.page.keyboard.press('End'))
      .then(() => ruth.page.keyboard.type(' Ruth was here.')),
  ]);
  for (const { page } of [marcus, ruth]) {
    await notes(page).getByText('Marcus was here.').waitFor();
    await notes(page).getByText('Ruth was here.').waitFor();
  }
});

it('goes on when the copy in the browser is taken away under it', async () => {
  // As another page of the same coach does, when an edit of his was refused there.
  await marcus.page.evaluate(async () => {
    for (const { name } of await indexedDB.databases())
      if (name)
        await new Promise((resolve, reject) => {
          const request = indexedDB.deleteDatabase(name);
          request.onsuccess = resolve;
          request.onerror = reject;
        });
  });
  await nudge(marcus.page, 'Z', 'ArrowRight', 2);
  const z = await where(marcus.page, 'Z');
  await ruth.page.getByRole('button', { name: z, exact: true }).waitFor();
  await saved(marcus.page);

  await marcus.context.setOffline(true);
  await nudge(marcus.page, 'Z', 'ArrowRight', 2);
  await marcus.page.getByRole('status').getByText('Offline, 2 edits on this page only').waitFor();
  await marcus.context.setOffline(false);
  await saved(marcus.page);
});
