import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CannotStart } from '../cannot-start.ts';
import { freePort } from './free-port.ts';

/** A Redis of ours that keeps nothing: what goes over it is in Postgres. */
export interface OwnRedis {
  url: string;
  /** Ends it at once, as a power cut would. */
  kill(): Promise<void>;
  /** The same address again. */
  start(): Promise<void>;
  /** SIGSTOP and SIGCONT: it stands there and does not answer. */
  freeze(): void;
  thaw(): void;
  stop(): Promise<void>;
}

/** Debian's `redis-server`, on this machine only; throws `CannotStart` when there is none. */
export async function startRedis(): Promise<OwnRedis> {
  const port = await freePort();
  const folder = await mkdtemp(join(tmpdir(), 'stemline-redis-'));
  let running = await start(port, folder);
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    if (running.exitCode !== null || running.signalCode !== null) return;
    const gone = new Promise((resolve) => running.once('exit', resolve));
    running.kill(signal);
    await gone;
  };
  return {
    url: `redis://127.0.0.1:${port}`,
    kill: () => end('SIGKILL'),
    start: async () => {
      running = await start(port, folder);
    },
    freeze: () => void running.kill('SIGSTOP'),
    thaw: () => void running.kill('SIGCONT'),
    stop: async () => {
      running.kill('SIGCONT');
      await end('SIGTERM');
      await rm(folder, { recursive: true, force: true });
    },
  };
}

function start(port: number, folder: string): Promise<ChildProcess> {
  const settings = ['--bind', '127.0.0.1', '--save', '', '--appendonly', 'no', '--dir', folder];
  // Of its own group: a Ctrl-C in the terminal is ours to pass on, when everybody else has ended.
  const child = spawn('redis-server', ['--port', String(port), ...settings], {
    stdio: ['ignore', 'pipe', 'ignore'],
    detached: true,
  });
  return new Promise((resolve, reject) => {
    let said = '';
    child.once('error', (error) => {
      reject(
        new CannotStart(
          `There is no redis-server here (${error.message}): install it (Debian: apt-get install redis-server).`,
        ),
      );
    });
    child.once('exit', () => reject(new CannotStart(`Redis does not start: ${said.slice(-500)}`)));
    child.stdout?.on('data', (chunk) => {
      said = (said + String(chunk)).slice(-5_000);
      if (said.includes('Ready to accept connections')) resolve(child);
    });
  });
}
