import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');

/** A whole Stemline as `npm start` runs it, on a free port with a store of its own. */
export interface Running {
  readonly url: string;
  readonly dataDir: string;
  /** Everything it has printed so far. */
  readonly printed: () => string;
  /** Ends it as Ctrl-C does and gives the exit code. */
  readonly stop: () => Promise<number | null>;
  /** Pulls the plug. */
  readonly kill: () => Promise<void>;
}

const startLimitMs = 120_000;

export const newDataDir = (): string => mkdtempSync(join(tmpdir(), 'stemline-journey-'));
export const dropDataDir = (folder: string): void =>
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });

export async function startStemline(
  dataDir: string,
  settings: Record<string, string> = {},
): Promise<Running> {
  const child = spawn(process.execPath, ['apps/server/start.mjs'], {
    cwd: root,
    env: {
      ...process.env,
      NODE_ENV: 'development',
      PORT: '0',
      DATA_DIR: dataDir,
      LOG_LEVEL: 'warn',
      ...settings,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let printed = '';
  child.stdout.on('data', (chunk) => {
    printed += String(chunk);
  });
  child.stderr.on('data', (chunk) => {
    printed += String(chunk);
  });
  const ended = new Promise<number | null>((done) => child.once('exit', (code) => done(code)));
  const url = await Promise.race([
    addressIn(child, () => printed),
    ended.then((code) => {
      throw new Error(`Stemline ended with ${code} before it listened:\n${printed}`);
    }),
  ]);
  return {
    url,
    dataDir,
    printed: () => printed,
    stop: async () => {
      child.kill('SIGTERM');
      return ended;
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

function addressIn(child: ChildProcess, printed: () => string): Promise<string> {
  return new Promise((found, failed) => {
    const limit = setTimeout(
      () => failed(new Error(`No address after ${startLimitMs} ms:\n${printed()}`)),
      startLimitMs,
    );
    const look = () => {
      const address = /http:\/\/127\.0\.0\.1:\d+/.exec(printed())?.[0];
      if (!address) return;
      clearTimeout(limit);
      child.stdout?.off('data', look);
      found(address);
    };
    child.stdout?.on('data', look);
    look();
  });
}
