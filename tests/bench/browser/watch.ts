import { readFileSync } from 'node:fs';
import type { CDPSession, Page } from 'playwright-core';

/** What a page went through while it was watched. Milliseconds. */
export interface Watched {
  /** From each frame to the next, as `requestAnimationFrame` tells it. */
  frames: number[];
  /** Tasks over 50 ms on the main thread (Long Tasks API). */
  longTasks: number[];
  /** From each movement of the hand that a check followed to its findings on the page. */
  latencies: number[];
  /** CPU time of the main thread, which other processes on the machine do not lengthen by waiting. */
  cpu: number;
}

interface Watching {
  frames: number[];
  longTasks: number[];
  latencies: number[];
  isOver: boolean;
}
declare global {
  interface Window {
    watching?: Watching;
  }
}

const watching = readFileSync(new URL('./watching.js', import.meta.url), 'utf8');

async function cpuOf(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics');
  const seconds = metrics.find(({ name }) => name === 'TaskDuration')?.value;
  if (seconds === undefined) throw new Error('this Chromium does not tell its CPU time');
  return seconds * 1000;
}

/** Watches a page while `work` goes on in it. */
export async function watch(page: Page, work: () => Promise<void>): Promise<Watched> {
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const before = await cpuOf(session);
  await page.evaluate(watching);
  await work();
  const seen = await page.evaluate(() => {
    if (window.watching) window.watching.isOver = true;
    return window.watching;
  });
  const cpu = (await cpuOf(session)) - before;
  await session.detach();
  if (!seen) throw new Error('nobody watched the page');
  return { frames: seen.frames, longTasks: seen.longTasks, latencies: seen.latencies, cpu };
}
