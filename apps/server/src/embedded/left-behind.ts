import { existsSync } from 'node:fs';
import { readdir, readFile, readlink, realpath, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { CannotStart } from '../cannot-start.ts';

const patience = 30_000;

/**
 * An app that was killed leaves its PostgreSQL running, or leaves its pid file. The first is stopped
 * in good order, the second removed, and only when no process works on the cluster any more.
 *
 * Call it only while holding the data lock. Linux only: it can tell which processes work in a
 * folder. Elsewhere PostgreSQL's own check of its pid file stands.
 */
export async function stopLeftBehind(cluster: string): Promise<void> {
  const pidFile = join(cluster, 'postmaster.pid');
  if (process.platform !== 'linux' || !existsSync(cluster)) return;
  const head = existsSync(pidFile)
    ? Number((await readFile(pidFile, 'utf8')).split('\n')[0])
    : null;
  const deadline = Date.now() + patience;
  let asked = false;
  for (;;) {
    const working = await processesIn(cluster);
    if (working.length === 0) break;
    if (Date.now() > deadline) {
      throw new CannotStart(
        `A PostgreSQL from an earlier start still works on ${cluster} (process ${working.join(', ')}) and does not stop: end it, then start again.`,
      );
    }
    if (head !== null && working.includes(head) && !asked) {
      // SIGINT: its "fast" shutdown, which rolls back what is open and writes everything else.
      process.kill(head, 'SIGINT');
      asked = true;
    }
    await pause(50);
  }
  await rm(pidFile, { force: true });
}

/** Every process of a PostgreSQL cluster has the cluster's folder as its working directory. */
async function processesIn(folder: string): Promise<number[]> {
  const real = await realpath(folder);
  const found: number[] = [];
  for (const entry of await readdir('/proc')) {
    if (!/^\d+$/.test(entry)) continue;
    // A process may end, or belong to somebody else, between the listing and the look.
    const cwd = await readlink(`/proc/${entry}/cwd`).catch(() => null);
    if (cwd === real) found.push(Number(entry));
  }
  return found;
}
