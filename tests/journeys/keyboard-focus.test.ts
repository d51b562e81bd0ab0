import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { openPlay, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// Whoever works by keyboard stands where he stood when the dialog that he opened from a menu is closed.

const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let dana: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  dana = await seat(browser, stemline.url);
  await signInAs(dana.page, 'dana');
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

const place = (page: Page, name: string): Promise<void> =>
  page.getByRole('link', { name, exact: true }).click();

/** One of each menu, and of each kind of dialog. */
const dialogs: { menu: RegExp; item: string; go: (page: Page) => Promise<void> }[] = [
  { menu: /^More for Anvil, bunch/, item: 'Duplicate', go: (page) => place(page, 'Book') },
  { menu: /^More for Lantern, doubles/, item: 'Archive', go: (page) => place(page, 'Book') },
  { menu: /^Account/, item: 'Change password', go: (page) => place(page, 'Book') },
  { menu: /^More for Samir/, item: 'Change role', go: (page) => place(page, 'Staff') },
  { menu: /^More for Odd/, item: 'Edit its rules', go: (page) => place(page, 'Look shelf') },
  {
    menu: /^More for this board/,
    item: 'Change formation',
    go: async (page) => {
      await place(page, 'Book');
      await openPlay(page, 'Anvil, bunch');
    },
  },
];

it.each(dialogs)('$item, left by Escape, gives the focus back to its menu', async (dialog) => {
  const { page } = dana;
  await dialog.go(page);
  const menu = page.getByRole('button', { name: dialog.menu }).first();
  await menu.focus();
  await page.keyboard.press('Enter');
  const item = page.getByRole('menuitem', { name: dialog.item });
  await item.focus();
  await page.keyboard.press('Enter');
  const opened = page.getByRole('dialog');
  await opened.waitFor();
  await page.waitForFunction(() => document.activeElement?.closest('[role=dialog]') !== null);
  await page.keyboard.press('Escape');
  await opened.waitFor({ state: 'detached' });
  await expect.poll(() => menu.evaluate((button) => button === document.activeElement)).toBe(true);
});
