import { loadavg } from 'node:os';
import type { Browser } from 'playwright-core';
import { openBrowser } from '../journeys/browser.ts';
import { dropDataDir, newDataDir, startStemline } from '../journeys/stemline.ts';
import {
  type Check,
  coachAtDesk,
  colleague,
  drag,
  moves,
  type Open,
  whileEditing,
} from './browser/drag.ts';
import type { Watched } from './browser/watch.ts';
import { type Figure, lower } from './figure.ts';
import { median, percentile } from './rooms/statistics.ts';

/** A frame longer than this is one that a hand feels, milliseconds. */
const longMs = 50;
const runs = 3;
const checks: readonly Check[] = ['live', 'off'];

interface Run {
  long: number;
  median: number;
  p99: number;
  longTasks: number;
  latency: number;
  latencyP99: number;
  followed: number;
  cpu: number;
}

const runOf = ({ frames, longTasks, latencies, cpu }: Watched): Run => ({
  long: frames.filter((ms) => ms > longMs).length,
  median: median(frames),
  p99: percentile(frames, 0.99),
  longTasks: longTasks.length,
  latency: median(latencies),
  latencyP99: percentile(latencies, 0.99),
  followed: latencies.length,
  cpu: cpu / moves,
});

const middle = (of: readonly Run[], what: keyof Run): number => median(of.map((run) => run[what]));

/** Live and off by turns, each in a fresh page, so that a machine that slows down slows both. */
async function byTurns(
  browser: Browser,
  url: string,
  open: Open,
  say: (sentence: string) => void,
): Promise<Record<Check, Run[]>> {
  const seen: Record<Check, Run[]> = { live: [], off: [] };
  for (let i = 0; i < runs; i++) {
    for (const check of checks) {
      const coach = await coachAtDesk(browser, url, { open, check });
      const run = runOf(await drag(coach));
      await coach.context.close();
      seen[check].push(run);
      say(
        `${open} open, check ${check}: ${run.long} frames over ${longMs} ms, p99 ${run.p99.toFixed(1)} ms, ${run.cpu.toFixed(1)} ms of CPU a move; load of the machine ${loadavg()[0]?.toFixed(1)}`,
      );
    }
  }
  return seen;
}

function figuresOf(open: Open, { live, off }: Record<Check, Run[]>): Figure[] {
  const name = (what: string): string => `drag, ${open} open: ${what}`;
  const ratio = (what: keyof Run): number => middle(live, what) / middle(off, what);
  return [
    lower(name('frames over 50 ms'), middle(live, 'long'), 'frames', 0),
    lower(name('frames over 50 ms, check off'), middle(off, 'long'), 'frames'),
    lower(name('long tasks'), middle(live, 'longTasks'), 'tasks'),
    lower(name('median frame'), middle(live, 'median'), 'ms'),
    lower(name('p99 frame'), middle(live, 'p99'), 'ms'),
    lower(name('p99 frame, live : off'), ratio('p99'), 'ratio'),
    lower(name('main thread CPU a move'), middle(live, 'cpu'), 'ms'),
    lower(name('main thread CPU a move, live : off'), ratio('cpu'), 'ratio'),
    lower(name('edit to findings, median'), middle(live, 'latency'), 'ms'),
    lower(name('edit to findings, p99'), middle(live, 'latencyP99'), 'ms'),
  ];
}

/**
 * A whole Stemline and a real Chromium: a coach drags a man while the rule check runs live and a
 * colleague writes on the same board. Takes about three minutes. Chromium without a GPU paints on the
 * same cores as all else, and a busy machine makes any frame long: then look at the ratios and at the
 * CPU time, which are those of one run.
 */
export async function browserBench(
  say: (sentence: string) => void,
  only: readonly string[] = [],
): Promise<Figure[]> {
  const parts: Record<string, Open> = { findings: 'Findings', table: 'Same page' };
  const dataDir = newDataDir();
  const stemline = await startStemline(dataDir);
  const browser = await openBrowser();
  try {
    const ruth = await colleague(browser, stemline.url);
    return await whileEditing(ruth, async () => {
      const figures: Figure[] = [];
      for (const [part, open] of Object.entries(parts)) {
        if (only.length > 0 && !only.includes(part)) continue;
        figures.push(...figuresOf(open, await byTurns(browser, stemline.url, open, say)));
      }
      return figures;
    });
  } finally {
    await browser.close();
    await stemline.stop();
    dropDataDir(dataDir);
  }
}
