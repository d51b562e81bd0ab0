import { existsSync, readdirSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { giveWay } from './priority.ts';

/** V8's scheduler and its four workers, which Node starts before any other thread. */
const threadsOfV8 = 5;
const threads = '/proc/self/task';
/** No system has more of them at once: `PID_MAX_LIMIT` of Linux. */
const maxThreadId = 4_194_304;

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
  const others = inOrderOfStart(process.pid, readdirSync(threads).map(Number));
  return giveWay(others.slice(0, threadsOfV8));
}

/** The threads of a process beside its first, by their ids: those count on, and at the end begin again from below. */
export function inOrderOfStart(pid: number, ids: readonly number[]): number[] {
  const rank = (id: number): number => (id > pid ? id - pid : id + maxThreadId - pid);
  return ids.filter((id) => id !== pid).sort((a, b) => rank(a) - rank(b));
}
