import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { finding, openPlay, saved, section, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// What a coach opens he closes, what he mends he undoes, what he changes he restores; a colleague watches.

const gapPlay = 'Lantern, trips right';
const play = 'Lantern, doubles right';
const slow = { timeout: 60_000 };
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let marcus: Seat;
let ruth: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  [marcus, ruth] = await Promise.all([
    seat(browser, stemline.url),
    seat(browser, stemline.url, { size: 'phone' }),
  ]);
  for (const { page } of [marcus, ruth]) page.setDefaultTimeout(60_000);
  await signInAs(marcus.page, 'marcus');
  await signInAs(ruth.page, 'ruth');
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

it('stands on the board what a line of the same-page table names, and takes it off again', async () => {
  const { page } = marcus;
  await openPlay(page, play);
  await section(page, 'Same page');
  const table = page.getByRole('table').first();
  const line = table.getByRole('button').first();
  await line.waitFor();
  const look = (await table.locator('caption').textContent())?.trim() ?? '';
  expect(look).not.toBe('');
  expect(await line.getAttribute('aria-pressed')).toBe('false');
  await line.click();
  const off = page.getByRole('button', { name: /^Take .* off the board$/ });
  await off.waitFor();
  const standing = /^Take (.*) off the board$/.exec(
    (await off.getAttribute('aria-label')) ?? '',
  )?.[1];
  expect(look.startsWith(standing ?? '?'), `${look} is ${standing}`).toBe(true);
  expect(await line.getAttribute('aria-pressed')).toBe('true');
  // It is one colleague's own view: the other's board stays as it is.
  await openPlay(ruth.page, play);
  expect(await ruth.page.getByRole('button', { name: /off the board$/ }).count()).toBe(0);
  await section(page, 'Looks');
  expect(
    await page
      .getByRole('radio', { name: standing ?? '' })
      .first()
      .isChecked(),
  ).toBe(true);
  await section(page, 'Same page');
  expect(await line.getAttribute('aria-pressed')).toBe('true');
  await off.click();
  await off.waitFor({ state: 'detached' });
  expect(await line.getAttribute('aria-pressed')).toBe('false');
});

it('mends a gap with one click and undoes it with Ctrl+Z, and a colleague sees both', async () => {
  for (const { page } of [marcus, ruth]) {
    await page.goto('/');
    await openPlay(page, gapPlay);
    await section(page, 'Findings');
    await finding(page, 'Gap').first().waitFor(slow);
  }
  const { page } = marcus;
  await finding(page, 'Gap')
    .first()
    .getByRole('button', { name: /^Add this row/ })
    .first()
    .click();
  for (const one of [marcus, ruth])
    await finding(one.page, 'Gap')
      .first()
      .waitFor({ state: 'detached', ...slow });
  await saved(page);
  await page.keyboard.press('Control+z');
  for (const one of [marcus, ruth]) await finding(one.page, 'Gap').first().waitFor(slow);
  await saved(page);
  await page.keyboard.press('Control+Shift+z');
  for (const one of [marcus, ruth])
    await finding(one.page, 'Gap')
      .first()
      .waitFor({ state: 'detached', ...slow });
  await saved(page);
});

it('shows a colleague everybody under the hand on their way, and leaves them where they were let go', async () => {
  for (const { page } of [marcus, ruth]) {
    await page.goto('/');
    await openPlay(page, play);
  }
  const man = (of: Seat, label: 'H' | 'Z') =>
    of.page.getByRole('button', { name: new RegExp(`^${label}, receiver`) });
  const middle = async (of: Seat, label: 'H' | 'Z'): Promise<readonly [number, number]> => {
    const box = await man(of, label).boundingBox();
    if (!box) throw new Error(`${label} is not on the board`);
    return [box.x + box.width / 2, box.y + box.height / 2];
  };
  const labels = ['H', 'Z'] as const;
  const before = await Promise.all(labels.map((label) => middle(ruth, label)));
  const stood = await Promise.all(
    labels.map((label) => man(ruth, label).getAttribute('aria-label')),
  );
  const { mouse, keyboard } = marcus.page;
  await mouse.click(...(await middle(marcus, 'H')));
  await keyboard.down('Shift');
  await mouse.click(...(await middle(marcus, 'Z')));
  await keyboard.up('Shift');
  for (const label of labels)
    expect(await man(marcus, label).getAttribute('aria-pressed'), label).toBe('true');
  const [hx, hy] = await middle(marcus, 'H');
  await mouse.move(hx, hy);
  await mouse.down();
  await mouse.move(hx - 40, hy + 40, { steps: 4 });
  const gone = async (): Promise<boolean[]> =>
    Promise.all(
      labels.map(async (label, i) => {
        const [x, y] = await middle(ruth, label);
        return x < (before[i]?.[0] ?? 0) - 2 && y > (before[i]?.[1] ?? 0) + 2;
      }),
    );
  await expect.poll(gone, slow).toEqual([true, true]);
  // On the way only: the document has not heard of it.
  expect(await marcus.page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(
    true,
  );
  // Where he stands in words: what of the field her page shows may be another once he is put down.
  const places = (of: Seat) =>
    Promise.all(labels.map((label) => man(of, label).getAttribute('aria-label')));
  await mouse.up();
  await saved(marcus.page);
  const put = await places(marcus);
  for (const [i, place] of put.entries()) expect(place).not.toBe(stood[i]);
  await expect.poll(() => places(ruth), slow).toEqual(put);
  await marcus.page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => places(ruth), slow).toEqual(stood);
});

it('shows a board as it was at a moment and restores it, and a colleague who has it open sees it so', async () => {
  const { page } = marcus;
  for (const one of [marcus, ruth]) {
    await one.page.goto('/');
    await openPlay(one.page, play);
  }
  const address = page.url();
  const receiver = (of: Seat) => of.page.getByRole('button', { name: /^H, receiver/ });
  const was = await receiver(marcus).getAttribute('aria-label');
  const moment = new Date();
  await receiver(marcus).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  await saved(page);
  const moved = await receiver(marcus).getAttribute('aria-label');
  expect(moved).not.toBe(was);
  await expect.poll(() => receiver(ruth).getAttribute('aria-label'), slow).toBe(moved);

  await page.goto(`${address}/history?time=${moment.toISOString()}`);
  await page.getByRole('heading', { name: /^As it was on / }).waitFor();
  await page.getByText('Restoring it would change one thing').click();
  await page.getByText(/^H moved 2 yd/).waitFor();
  // Looking back changes nothing.
  expect(await receiver(ruth).getAttribute('aria-label')).toBe(moved);
  await page.getByRole('button', { name: 'Restore this' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Restore', exact: true }).click();
  await page.getByRole('group', { name: `Play board: ${play}` }).waitFor();
  for (const one of [marcus, ruth])
    await expect.poll(() => receiver(one).getAttribute('aria-label'), slow).toBe(was);
  // Nothing was taken out of the history: what he had moved is still to be seen in it.
  await page.goto(`${address}/history`);
  await page.getByText('Nothing has changed since then.').waitFor();
  await page
    .getByText(/Marcus Oyelaran/)
    .first()
    .waitFor();
});

it('draws a line for whoever presses one key right after the other, and moves nobody', async () => {
  const { page } = marcus;
  await page.goto('/');
  await openPlay(page, 'Anvil, bunch');
  const man = page.getByRole('button', { name: /^X, receiver/ }).first();
  const place = ((await man.getAttribute('aria-label')) ?? '').split('Route:')[0];
  expect(place).not.toBe('');
  for (let time = 0; time < 5; time++) {
    await man.focus();
    await page.keyboard.press('r');
    for (let i = 0; i < 10; i++) await page.keyboard.press('Shift+ArrowUp');
    await page.keyboard.press('Space');
    // Moved and not put down: the end of the line all the same.
    for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Enter');
    await saved(page);
    await expect
      .poll(() => man.getAttribute('aria-label'))
      .toBe(`${place}Route: In, breaks in at 9.5 yards.`);
  }
});

it('left no uncaught error', () => {
  const complaints = [marcus, ruth]
    .flatMap((one) => one.complaints)
    .filter((text) => !/status of (401|403)/.test(text));
  expect(complaints).toEqual([]);
});
