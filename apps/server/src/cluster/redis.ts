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

/** Pause before one that ended by itself is started again, milliseconds. */
const restartMs = 500;

/**
 * Debian's `redis-server`, on this machine only; throws `CannotStart` when there is none. `onRestart`: it
 * ended by itself and is started again; left out, it stays away.
 */
export async function startRedis(onRestart?: (why: string) => void): Promise<OwnRedis> {
  const port = await freePort();
  const folder = await mkdtemp(join(tmpdir(), 'stemline-redis-'));
  let isStopping = false;
  let restarting: NodeJS.Timeout | null = null;
  const launch = async (): Promise<ChildProcess> => {
    const launched = await start(port, folder);
    launched.once('exit', (code, signal) => {
      if (isStopping || !onRestart) return;
      onRestart(`it ended by itself (${signal ?? `code ${code}`})`);
      again(onRestart);
    });
    return launched;
  };
  const again = (say: (why: string) => void): void => {
    restarting = setTimeout(() => {
      launch().then(
        async (launched) => {
          running = launched;
          if (isStopping) await end('SIGTERM');
        },
        (error: Error) => {
          if (isStopping) return;
          say(error.message);
          again(say);
        },
      );
    }, restartMs);
  };
  let running = await launch();
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
      running = await launch();
    },
    freeze: () => void running.kill('SIGSTOP'),
    thaw: () => void running.kill('SIGCONT'),
    stop: async () => {
      isStopping = true;
      if (restarting) clearTimeout(restarting);
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
