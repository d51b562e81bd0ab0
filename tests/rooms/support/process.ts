import { type ChildProcess, spawn } from 'node:child_process';
import { built, mapped } from '../../../apps/server/src/built.ts';
import { projectRoot } from '../../../apps/server/src/env.ts';

/** The whole server as a process of its own, with its own embedded PostgreSQL. */
export interface ServerProcess {
  origin: string;
  rooms: string;
  /** How it ended; null: it runs. */
  ended(): string | null;
  /** From now on nobody reads what it says: writing that fails, as behind a pipe whose reader is gone. */
  hangUp(): void;
  /** Ends it as a power cut would; resolves when it is gone. */
  kill(): Promise<void>;
  /** Asks it to end; resolves with its exit code. */
  stop(): Promise<number | null>;
}

/** Resolves once it answers that it is ready; throws with what it said when it ends before that. */
export async function startServerProcess(
  dataDir: string,
  port: number,
  env: Record<string, string> = {},
): Promise<ServerProcess> {
  const child = spawn(process.execPath, [mapped, built('main')], {
    cwd: projectRoot,
    env: {
      ...process.env,
      NODE_ENV: 'test',
      DATA_DIR: dataDir,
      PORT: String(port),
      HOST: '127.0.0.1',
      DEMO: '0',
      LOG_LEVEL: process.env.ROOMS_LOG ?? 'warn',
      DATABASE_URL: '',
      PUBLIC_URL: '',
      ...env,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (chunk: Buffer) => {
      said = (said + chunk.toString()).slice(-20_000);
    });
  }
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const origin = `http://127.0.0.1:${port}`;
  await ready(origin, child, () => said);
  return {
    origin,
    rooms: `ws://127.0.0.1:${port}/rooms`,
    ended: () =>
      child.exitCode === null && child.signalCode === null
        ? null
        : `${child.signalCode ?? child.exitCode}: ${said.slice(-2_000)}`,
    hangUp: () => {
      child.stdout.destroy();
      child.stderr.destroy();
    },
    kill: async () => {
      child.kill('SIGKILL');
      await gone;
    },
    stop: () => {
      child.kill('SIGTERM');
      return gone;
    },
  };
}

async function ready(origin: string, child: ChildProcess, said: () => string): Promise<void> {
  const deadline = performance.now() + 90_000;
  for (;;) {
    if (child.exitCode !== null) throw new Error(`the server ended: ${said()}`);
    if (performance.now() > deadline) throw new Error(`the server does not get ready: ${said()}`);
    const answer = await fetch(`${origin}/readyz`).catch(() => null);
    if (answer?.ok) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
