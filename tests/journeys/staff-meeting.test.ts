import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, type Seat, seat } from './browser.ts';
import { finding, openPlay, saved, section, setAnswer, setLimit, signInAs } from './coach.ts';
import { demoDataDir } from './demo-data-dir.ts';
import { dropDataDir, type Running, startStemline } from './stemline.ts';

// The staff meets: five people at five machines, one play. Invented people of the demo staff.

const play = 'Lantern, tight';
/** What a page calls "within seconds"; lists that nobody waits for are read again three times a minute. */
const seconds = 10_000;
const dataDir = demoDataDir();
let stemline: Running;
let browser: Browser;
let marcus: Seat;
let ruth: Seat;
let tomas: Seat;
let dana: Seat;
let eli: Seat;

beforeAll(async () => {
  stemline = await startStemline(dataDir);
  browser = await openBrowser();
  [marcus, ruth, tomas, dana, eli] = await Promise.all([
    seat(browser, stemline.url),
    seat(browser, stemline.url),
    seat(browser, stemline.url),
    seat(browser, stemline.url),
    seat(browser, stemline.url, { size: 'phone' }),
  ]);
  await signInAs(marcus.page, 'marcus');
  await signInAs(ruth.page, 'ruth');
  await signInAs(tomas.page, 'tomas');
  await signInAs(dana.page, 'dana');
  await signInAs(eli.page, 'eli');
});

afterAll(async () => {
  await browser?.close();
  await stemline?.stop();
  dropDataDir(dataDir);
});

it('shows two coaches on one board each other and what stands between their rows', async () => {
  await openPlay(marcus.page, play);
  await openPlay(ruth.page, play);
  const present = (page: Seat['page'], name: string) =>
    page.getByRole('list', { name: 'Also on this board' }).getByText(name).waitFor();
  await present(marcus.page, 'Ruth Lindqvist');
  await present(ruth.page, 'Marcus Oyelaran');

  for (const { page } of [marcus, ruth]) {
    await section(page, 'Findings');
    const clash = finding(page, 'Clash');
    await clash.waitFor();
    expect(await clash.textContent()).toContain('Marcus Oyelaran');
    expect(await clash.textContent()).toContain('Ruth Lindqvist');
  }
});

it('stands the witness of a clash on the board with one click', async () => {
  const clash = finding(ruth.page, 'Clash');
  await clash.getByRole('button', { name: 'Show it on the board' }).click();
  await ruth.page
    .getByRole('group', { name: `Play board: ${play}` })
    .getByText('key', { exact: false })
    .first()
    .waitFor();
});

it('closes a finding by itself on both screens when one of them mends it', async () => {
  await section(marcus.page, 'Read card');
  await setAnswer(
    marcus.page,
    { row: 1, fact: 'Man on the other side' },
    'no: nobody stands outside of him',
  );
  await section(marcus.page, 'Findings');
  await finding(marcus.page, 'Clash').waitFor({ state: 'detached' });
  await finding(ruth.page, 'Clash').waitFor({ state: 'detached' });
});

it('opens a finding on both screens, with both names, as soon as two rows conflict', async () => {
  await section(ruth.page, 'Read card');
  await setLimit(
    ruth.page,
    { row: 3, fact: 'Room inside' },
    { end: 'to', kind: 'less than', yards: '3' },
  );
  await section(ruth.page, 'Findings');
  for (const { page } of [ruth, marcus]) {
    const clash = finding(page, 'Clash');
    // Her own page says it before the room does; the names are the room's.
    await clash.getByText('Marcus Oyelaran').first().waitFor();
    const words = (await clash.textContent()) ?? '';
    expect(words).toContain('2.0 yd or more but less than 3.0 yd of room inside');
    expect(words).toContain('Ruth Lindqvist');
    expect(words).not.toContain('not saved yet');
  }
  await section(ruth.page, 'Read card');
  await ruth.page.getByRole('group', { name: `Play board: ${play}` }).focus();
  await ruth.page.getByRole('button', { name: 'Undo', exact: true }).click();
  await finding(marcus.page, 'Clash').waitFor({ state: 'detached' });
});

it('lets both work on one route and one card at once, each seeing the other', async () => {
  await marcus.page.getByRole('button', { name: /^H, receiver/ }).click();
  await ruth.page.getByRole('button', { name: /^Z, receiver/ }).click();
  await section(marcus.page, 'Player');
  await Promise.all([
    marcus.page
      .getByLabel('Route name')
      .fill('Lantern stem')
      .then(() => marcus.page.getByLabel('Route name').press('Enter')),
    (async () => {
      await ruth.page.getByRole('button', { name: /^Z, receiver/ }).focus();
      for (let i = 0; i < 4; i++) await ruth.page.keyboard.press('ArrowRight');
    })(),
  ]);
  await ruth.page.getByRole('button', { name: /^H, receiver.*Lantern stem/ }).waitFor();
  await marcus.page
    .getByRole('button', { name: /^Z, receiver, number 2, 8.4 yards right/ })
    .waitFor();
  await saved(marcus.page);
  await saved(ruth.page);
});

it('lets an assistant comment but not edit', async () => {
  await openPlay(tomas.page, play);
  expect(await tomas.page.getByRole('radio', { name: 'Draw route' }).count()).toBe(0);
  await section(tomas.page, 'Comments');
  await tomas.page
    .getByLabel('Comment on the whole play')
    .fill('Cut him off at the hash, not before.');
  await tomas.page.getByRole('button', { name: 'Comment', exact: true }).click();
  await section(marcus.page, 'Comments');
  await marcus.page.getByText('Cut him off at the hash, not before.').waitFor();
  expect(await marcus.page.getByRole('button', { name: 'Edit', exact: true }).count()).toBe(0);
});

it('has who wrote a comment reword it, by the keyboard alone, and the others read it so', async () => {
  const own = tomas.page.getByRole('listitem').filter({ hasText: 'Cut him off' }).last();
  const edit = own.getByRole('button', { name: 'Edit', exact: true });
  await edit.press('Enter');
  const field = tomas.page.getByLabel('Your comment');
  expect(await field.evaluate((one) => one === document.activeElement)).toBe(true);
  await tomas.page.keyboard.press('Control+A');
  await tomas.page.keyboard.type('Cut him off at the numbers.');
  await tomas.page.keyboard.press('Control+Enter');
  await field.waitFor({ state: 'hidden' });
  expect(await edit.evaluate((one) => one === document.activeElement)).toBe(true);
  await marcus.page.getByText('Cut him off at the numbers.').waitFor();
  await marcus.page.getByText(/, edited/).waitFor();
});

it('has who wrote a comment delete it, and the others see that there was one', async () => {
  const thread = tomas.page.getByRole('listitem').filter({ hasText: 'Cut him off' }).first();
  await thread.getByRole('button', { name: 'Reply' }).click();
  await thread.getByLabel('Reply').fill('Not this one.');
  await thread.getByRole('button', { name: 'Send reply' }).click();
  const own = thread.getByRole('listitem').filter({ hasText: 'Not this one.' });
  await own.getByRole('button', { name: 'Delete', exact: true }).press('Enter');
  await tomas.page.getByRole('button', { name: 'Delete comment' }).press('Enter');
  const deleted = thread.getByRole('listitem').filter({ hasText: 'Deleted' });
  await deleted.waitFor();
  expect(await deleted.evaluate((one) => one === document.activeElement)).toBe(true);
  await marcus.page.getByText('Deleted', { exact: true }).waitFor();
  expect(await marcus.page.getByText('Not this one.').count()).toBe(0);
  expect(await marcus.page.getByRole('button', { name: 'Delete', exact: true }).count()).toBe(0);
});

it('keeps what somebody is writing, whatever he and others do meanwhile', async () => {
  const { page } = tomas;
  // He looks at something else and comes back.
  const about = page.getByLabel('Comment on the whole play');
  await about.fill('Half a thought');
  await page.getByRole('button', { name: /^H, receiver/ }).click();
  await section(page, 'Findings');
  await section(page, 'Comments');
  expect(await page.getByLabel(/^Comment on H/).inputValue()).toBe('');
  await page.getByRole('group', { name: `Play board: ${play}` }).press('Escape');
  expect(await about.inputValue()).toBe('Half a thought');
  await about.fill('');

  // Somebody resolves the thread whose words he is changing.
  const own = page.getByRole('listitem').filter({ hasText: 'Cut him off' }).last();
  await own.getByRole('button', { name: 'Edit', exact: true }).click();
  const field = page.getByLabel('Your comment');
  await field.fill('Cut him off where he stands.');
  const thread = marcus.page.getByRole('listitem').filter({ hasText: 'Cut him off' }).first();
  await thread.getByRole('button', { name: 'Resolve', exact: true }).click();
  await page.getByText(/Resolved by/).waitFor();
  expect(await field.inputValue()).toBe('Cut him off where he stands.');
  await field.press('Control+Enter');
  await field.waitFor({ state: 'hidden' });
  await marcus.page.getByText(/^Resolved \(/).click();
  await thread.getByText('Cut him off where he stands.').waitFor();
  await thread.getByRole('button', { name: 'Reopen', exact: true }).click();
  await section(marcus.page, 'Findings');
});

it('has the head coach sign off what was sent up, and not what came after', async () => {
  // She has just looked, and what she saw then must not be what she sees later.
  await dana.page.getByRole('link', { name: 'Waiting for you' }).click();
  await dana.page.getByRole('article').first().waitFor();
  await dana.page.getByRole('link', { name: 'Book', exact: true }).click();

  await section(marcus.page, 'Sign-off');
  await marcus.page.getByLabel('Message to the head coach').fill('Two answers settled.');
  await marcus.page.getByRole('button', { name: 'Send up for sign-off' }).click();
  await marcus.page.getByRole('heading', { name: 'Waiting for the head coach' }).waitFor();

  // The working board goes on after it was sent.
  await ruth.page.getByRole('button', { name: /^Z, receiver/ }).focus();
  await ruth.page.keyboard.press('ArrowRight');
  await saved(ruth.page);

  await dana.page.getByRole('link', { name: /^Waiting for you/ }).click();
  const change = dana.page.getByRole('article', { name: `Sent up: ${play}` });
  await change.getByText('Two answers settled.').waitFor({ timeout: seconds });
  await change.getByRole('button', { name: 'Sign off' }).click();
  await marcus.page.getByRole('link', { name: 'Version 1' }).waitFor();
});

it('shows a player the signed version and not the working one', async () => {
  await eli.page.reload();
  await eli.page.getByRole('link', { name: play, exact: true }).click();
  await eli.page.getByRole('heading', { name: play, level: 1 }).waitFor();
  await eli.page.getByText('The drawing in words').click();
  const words = await eli.page.getByRole('main').textContent();
  expect(words).toContain('8.4 yards right of the ball');
  expect(words).not.toContain('8.9 yards right of the ball');
  // What the staff says to one another about the working board is closed to him.
  const api = eli.page.url().replace('/signed', '').replace('/boards/', '/api/boards/');
  for (const staffOnly of ['threads', 'findings/history', 'changes']) {
    expect((await eli.page.request.get(`${api}/${staffOnly}`)).status()).toBe(403);
  }
});

it('left no uncaught error on any of the five screens', () => {
  const complaints = [marcus, ruth, tomas, dana, eli]
    .flatMap((one) => one.complaints)
    // A browser reports every 401 and 403 that it is answered; the first look at the session is one.
    .filter((text) => !/status of (401|403)/.test(text));
  expect(complaints).toEqual([]);
});
