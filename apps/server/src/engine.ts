import { existsSync, readdirSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { giveWay } from './priority.ts';

/** V8's scheduler and its four workers, which Node starts before any other thread. */
const threadsOfV8 = 5;
const threads = '/proc/self/task';

/**
 * Has V8 make quick code early and out of the way. A board at work is edited some twenty times a second: code
 * that runs so seldom is interpreted for minutes, and what is compiled meanwhile takes more of the processors
 * than the server does. Gives back why that could not be put behind all else, or null.
 */
export function tuneEngine(): string | null {
  // Only the V8 of Node 20 and 21 has the second setting; a later one would complain about it.
  if (process.versions.v8.startsWith('11.')) {
    setFlagsFromString('--always-sparkplug');
    setFlagsFromString('--interrupt-budget=16000');
  }
  if (!existsSync(threads)) return null;
  const [, ...others] = readdirSync(threads)
    .map(Number)
    .sort((a, b) => a - b);
  return giveWay(others.slice(0, threadsOfV8));
}
