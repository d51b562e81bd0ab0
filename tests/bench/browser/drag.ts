import { setTimeout } from 'node:timers/promises';
import type { Browser, Page } from 'playwright-core';
import { type Seat, seat } from '../../journeys/browser.ts';
import { openPlay, saved, section, signInAs } from '../../journeys/coach.ts';
import { type Watched, watch } from './watch.ts';

/** Which section is open beside the board while the hand drags. */
export type Open = 'Findings' | 'Same page';
/** `off`: the page's worker is kept from it, and only the room checks. */
export type Check = 'live' | 'off';

const play = 'Lantern, doubles right';
/** Movements of the hand in one drag. */
export const moves = 360;
const warmMoves = 60;

/** Opens the play at a desk of its own, with a look on the board and a section open. */
export async function coachAtDesk(
  browser: Browser,
  url: string,
  { open, check }: { open: Open; check: Check },
): Promise<Seat> {
  const coach = await seat(browser, url);
  if (check === 'off') await coach.context.route(/\/assets\/worker-/, (route) => route.abort());
  await signInAs(coach.page, 'marcus');
  await openPlay(coach.page, play);
  await section(coach.page, 'Looks');
  await coach.page.getByText(/^Odd/).first().click();
  await section(coach.page, open);
  if (check === 'off' && open === 'Findings') {
    await coach.page.getByText('could not run the rule check itself').waitFor();
  }
  return coach;
}

/** The second browser: a colleague who goes on writing on the same board. */
export async function colleague(browser: Browser, url: string): Promise<Seat> {
  const ruth = await seat(browser, url);
  await signInAs(ruth.page, 'ruth');
  await openPlay(ruth.page, play);
  return ruth;
}

/** How long the colleague rests between two gestures, milliseconds. */
const restMs = 400;

/** Nudges a man back and forth, about two gestures a second, while `work` goes on. */
export async function whileEditing<T>({ page }: Seat, work: () => Promise<T>): Promise<T> {
  let isOver = false;
  const edit = async (): Promise<void> => {
    await page.getByRole('button', { name: /^F, / }).focus();
    for (let i = 0; !isOver; i++) {
      await page.keyboard.press(i % 4 < 2 ? 'ArrowRight' : 'ArrowLeft');
      await setTimeout(restMs);
    }
  };
  const working = work().finally(() => {
    isOver = true;
  });
  const [done] = await Promise.all([working, edit()]);
  return done;
}

async function middleOf(page: Page, label: string): Promise<{ x: number; y: number }> {
  const box = await page.getByRole('button', { name: new RegExp(`^${label}, `) }).boundingBox();
  if (!box) throw new Error(`${label} is not on the board`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Round and round over the line, so that findings open and close, and back to where it began. */
async function sweep(page: Page, from: { x: number; y: number }, count: number): Promise<void> {
  for (let i = 1; i <= count; i++) {
    const turn = (i / count) * 6 * Math.PI;
    await page.mouse.move(from.x + Math.sin(turn) * 45, from.y + (1 - Math.cos(turn)) * 30);
  }
}

/** One long drag of the split end, watched. */
export async function drag({ page }: Seat): Promise<Watched> {
  const from = await middleOf(page, 'X');
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await sweep(page, from, warmMoves);
  const watched = await watch(page, () => sweep(page, from, moves));
  await page.mouse.up();
  await saved(page);
  return watched;
}
