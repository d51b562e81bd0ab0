import { type ChildProcess, spawn } from 'node:child_process';
import { closeSync, openSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { CannotStart } from '../cannot-start.ts';
import { plainEnv } from './cluster.ts';
import type { Place } from './place.ts';

const startPatience = 60_000;
const stopPatience = 30_000;

export interface ServerOptions {
  port: number;
  /** To ask whether it answers. */
  url: string;
  logFile: string;
  /** Further `-c` settings. */
  settings: readonly string[];
}

/** Starts PostgreSQL and waits until it answers; `CannotStart` with its last words when it does not. */
export async function startServer(
  place: Place,
  { port, url, logFile, settings: further }: ServerOptions,
): Promise<ChildProcess> {
  const log = openSync(logFile, 'w', 0o600);
  const settings = [
    'listen_addresses=127.0.0.1',
    'unix_socket_directories=',
    'cluster_name=stemline',
    ...further,
  ];
  const child = spawn(
    join(place.programs, 'bin', 'postgres'),
    ['-D', place.cluster, '-p', String(port), ...settings.flatMap((setting) => ['-c', setting])],
    // Its own process group: Ctrl-C must reach the app only, which saves before it ends the database.
    {
      ...place.runAs,
      cwd: place.folder,
      env: plainEnv,
      stdio: ['ignore', log, log],
      detached: true,
    },
  );
  closeSync(log);
  let ended: string | null = null;
  child.once('error', (error) => {
    ended = error.message;
  });
  child.once('exit', (code, signal) => {
    ended = `it ended with ${signal ?? `code ${code}`}`;
  });
  const deadline = Date.now() + startPatience;
  while (!(await answers(url))) {
    if (ended === null && Date.now() < deadline) {
      await pause(25);
      continue;
    }
    if (ended === null) child.kill('SIGQUIT');
    const last = (await readFile(logFile, 'utf8')).trim().split('\n').slice(-3).join(' / ');
    throw new CannotStart(
      `The embedded database did not start: ${ended ?? 'no answer in a minute'} (${last}).`,
    );
  }
  return child;
}

/** Ends it in good order, whatever is connected; at once when it takes too long (it then recovers at its next start). */
export async function stopServer(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  child.kill('SIGINT');
  const late = setTimeout(() => child.kill('SIGQUIT'), stopPatience);
  await ended;
  clearTimeout(late);
}

async function answers(url: string): Promise<boolean> {
  const client = new pg.Client({ connectionString: url });
  try {
    await client.connect();
    await client.end();
    return true;
  } catch {
    return false;
  }
}
