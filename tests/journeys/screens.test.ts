import { copyFileSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, type Seat, seat, sizes } from './browser.ts';
import { openPlay, saved, section, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// Every screen, at three widths, light and dark: a picture to look at, nothing that runs out of the
// page sideways, and what axe-core finds wrong for keyboard and screen reader.

const pictures = resolve(import.meta.dirname, '../../test-results/screens');
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
});

afterAll(async () => {
  // The picture of the README is one of these; `README_PICTURE=1` takes it anew.
  if (process.env.README_PICTURE === '1') {
    copyFileSync(
      join(pictures, 'board-clash-desktop-light.png'),
      join(import.meta.dirname, 'board.png'),
    );
  }
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

const screens: Record<string, (page: Page) => Promise<void>> = {
  book: (page) => page.getByRole('link', { name: 'Anvil, bunch' }).waitFor(),
  'board-clash': async (page) => {
    await openPlay(page, 'Lantern, tight');
    await section(page, 'Findings');
    await page.getByRole('button', { name: 'Show it on the board' }).first().click();
  },
  'board-card': async (page) => {
    await openPlay(page, 'Lantern, doubles right');
    await section(page, 'Looks');
    await page.getByText(/^Odd/).first().click();
    await section(page, 'Read card');
  },
  'board-sign-off': async (page) => {
    await openPlay(page, 'Juniper, empty');
    await section(page, 'Sign-off');
    await page.getByRole('button', { name: 'Sign off' }).waitFor();
  },
  'board-protection': async (page) => {
    await openPlay(page, 'Lantern, doubles right');
    await section(page, 'Protection');
    await page.getByText('Over, six-man pressure, no one deep').click();
    await page.getByRole('list', { name: 'Who blocks whom' }).waitFor();
  },
  'board-history': async (page) => {
    await openPlay(page, 'Anvil, bunch');
    await page
      .getByRole('button', { name: /, receiver/ })
      .first()
      .focus();
    for (let i = 0; i < 2; i++) await page.keyboard.press('ArrowRight');
    await saved(page);
    await page.goto(`${page.url()}/history`);
    await page.getByRole('region', { name: 'What was changed in this stretch of edits' }).waitFor();
    await page.getByText('The drawing in words').waitFor();
  },
  'draw-look': async (page) => {
    await page.getByRole('link', { name: 'Look shelf' }).click();
    await page.getByRole('button', { name: 'Draw a look' }).click();
    const editor = page.getByRole('dialog', { name: 'Draw a look' });
    await editor.getByRole('button', { name: 'Add a man' }).click();
    await editor.getByRole('button', { name: /^NB, second level/ }).focus();
  },
  'draw-look-leave': async (page) => {
    await page.getByRole('link', { name: 'Look shelf' }).click();
    await page.getByRole('button', { name: 'Draw a look' }).click();
    await page.getByRole('button', { name: 'Add a man' }).click();
    await page.keyboard.press('Escape');
    await page.getByRole('dialog', { name: 'Throw away what you changed?' }).waitFor();
  },
  'look-shelf': async (page) => {
    await page.getByRole('link', { name: 'Look shelf' }).click();
    await page.getByRole('list', { name: 'Looks' }).waitFor();
  },
  waiting: async (page) => {
    await page.getByRole('link', { name: /^Waiting for you/ }).click();
    await page.getByRole('article').first().waitFor();
    await page.getByText('The play as it was sent').first().click();
    await page.getByRole('img', { name: /, drawn$/ }).waitFor();
  },
  staff: async (page) => {
    await page.getByRole('link', { name: 'Staff', exact: true }).click();
    await page.getByRole('list', { name: 'Members' }).waitFor();
  },
};

const widerThanWindow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

/** What is wrong for keyboard and screen reader, in words; none is meant. */
async function troubles(page: Page, rules?: readonly string[]): Promise<string[]> {
  // In the page itself, and only of what is wrong: most of the time went into telling what is right.
  const axe = new AxeBuilder({ page }).setLegacyMode(true).options({ resultTypes: ['violations'] });
  const { violations } = await (rules ? axe.withRules([...rules]) : axe).analyze();
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`);
}

/** In light and in dark, between which nothing but colours may differ. */
async function hold({ page }: Seat, name: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const which = `${name}-${colorScheme}`;
    await page.screenshot({ path: join(pictures, `${which}.png`) });
    expect(await widerThanWindow(page), `${which} runs out of the page`).toBeLessThanOrEqual(0);
    const rules = colorScheme === 'dark' ? ['color-contrast'] : undefined;
    expect(await troubles(page, rules), which).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
}

// At once: a page keeps one core busy while it is looked over, and the machine has more.
describe.concurrent.each(Object.keys(sizes) as (keyof typeof sizes)[])('%s', (size) => {
  it('every screen of the head coach', async () => {
    const dana = await seat(browser, stemline.url, { size });
    await dana.page.goto('/');
    await dana.page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await hold(dana, `sign-in-${size}`);
    await signInAs(dana.page, 'dana');
    for (const [name, go] of Object.entries(screens)) {
      await dana.page.goto('/');
      await dana.page.getByRole('heading', { name: 'Book', level: 1 }).waitFor();
      await go(dana.page);
      await hold(dana, `${name}-${size}`);
    }
    await dana.context.close();
  }, 240_000);

  it('what a player sees', async () => {
    const eli = await seat(browser, stemline.url, { size });
    await signInAs(eli.page, 'eli');
    await hold(eli, `player-book-${size}`);
    await eli.page.getByRole('link', { name: 'Lantern, doubles right' }).click();
    await eli.page.getByRole('heading', { name: 'The play as it was signed' }).waitFor();
    await hold(eli, `player-play-${size}`);
    await eli.context.close();
  });
});

it('puts a play on paper light, with nothing that can only be pressed', async () => {
  const dana = await seat(browser, stemline.url);
  await signInAs(dana.page, 'dana');
  await openPlay(dana.page, 'Lantern, doubles right');
  const board = dana.page.url();
  const onPaper = async (): Promise<void> => {
    await dana.page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await dana.page.getByRole('img', { name: 'Lantern, doubles right, drawn' }).waitFor();
    const page = await dana.page.evaluate(() => ({
      man: [...document.querySelectorAll('svg[role="img"] circle')]
        .map((one) => one.getBoundingClientRect())
        .map(({ width, height }) => Math.round((100 * width) / height) / 100)[0],
      pressed: [...document.querySelectorAll('nav, button, [role="toolbar"]')]
        .filter((one) => one.getClientRects().length > 0)
        .map((one) => one.outerHTML.slice(0, 80)),
      scheme: getComputedStyle(document.documentElement).colorScheme,
      ground: getComputedStyle(document.body).backgroundColor,
      ink: getComputedStyle(document.querySelector('h1') ?? document.body).color,
    }));
    expect(page).toEqual({
      pressed: [],
      scheme: 'light',
      ground: 'rgb(255, 255, 255)',
      ink: 'rgb(20, 29, 31)',
      man: 1,
    });
    await dana.page.emulateMedia({ media: 'screen', colorScheme: 'light' });
  };
  await onPaper();
  await dana.page.goto(`${board}/signed`);
  await dana.page.getByRole('heading', { name: 'The play as it was signed' }).waitFor();
  await onPaper();
  await dana.context.close();
});

it('shows every section of a board, whatever the width', async () => {
  const dana = await seat(browser, stemline.url);
  await signInAs(dana.page, 'dana');
  // It has findings, whose count takes room beside them.
  await openPlay(dana.page, 'Lantern, tight');
  await section(dana.page, 'Findings');
  const outside = async (): Promise<(string | null)[]> =>
    dana.page
      .getByRole('tablist', { name: 'Sections' })
      .getByRole('tab')
      .evaluateAll((tabs) =>
        tabs
          .filter((tab) => tab.getBoundingClientRect().right > window.innerWidth)
          .map(({ textContent }) => textContent),
      );
  for (const width of [
    360, 390, 414, 433, 768, 834, 992, 993, 1024, 1194, 1280, 1366, 1425, 1440, 1920,
  ]) {
    await dana.page.setViewportSize({ width, height: 800 });
    expect(await outside(), `${width} wide`).toEqual([]);
  }
  await dana.context.close();
});

it('lets nothing move where motion is reduced', async () => {
  const dana = await seat(browser, stemline.url);
  await signInAs(dana.page, 'dana');
  await screens['look-shelf']?.(dana.page);
  const moving = await dana.page.evaluate(() =>
    [...document.querySelectorAll('*')]
      .filter((one) => getComputedStyle(one).transitionProperty !== 'none')
      .map((one) => one.outerHTML.slice(0, 80)),
  );
  expect(moving).toEqual([]);
  await dana.context.close();
});
