import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { built, mapped } from '../../../apps/server/src/built.ts';
import { freePort } from '../../../apps/server/src/cluster/free-port.ts';
import { projectRoot } from '../../../apps/server/src/env.ts';
import type { Dialect } from './client.ts';
import type { Target } from './jobs.ts';

export const sideNames = ['Stemline', 'websocket-server', 'hocuspocus', 'relay'] as const;
export type SideName = (typeof sideNames)[number];

/** What a server has used: processor time so far, and bytes now. */
export interface Cost {
  cpuMs: number;
  rss: number;
  /** Live JavaScript and what it holds outside the heap; after a collection only. */
  heap: number;
}

/** One server under test, in a process of its own. */
export interface Side {
  name: SideName;
  dialect: Dialect;
  /** Address of a room without its name. */
  url: string;
  /** Where else the same rooms are served. */
  also?: Target['also'];
  pid: number;
  cost(collect?: boolean): Promise<Cost>;
  stop(): Promise<void>;
}

const here = import.meta.dirname;
const peersFolder = join(here, '../peers');

/** Each peer lives in a folder of its own, with its own lock file: one of them brings yjs 14. */
export function installPeers(): void {
  for (const peer of ['websocket-server', 'hocuspocus']) {
    const cwd = join(peersFolder, peer);
    if (existsSync(join(cwd, 'node_modules', 'yjs'))) continue;
    const { status, stderr } = spawnSync('npm', ['ci', '--silent'], { cwd, encoding: 'utf8' });
    if (status !== 0) throw new Error(`${peer} cannot be installed: ${stderr}`);
  }
}

const programs: Record<SideName, readonly string[]> = {
  Stemline: [mapped, built('main')],
  'websocket-server': [
    join(peersFolder, 'websocket-server/node_modules/@y/websocket-server/src/server.js'),
  ],
  hocuspocus: [join(here, 'hocuspocus.mjs')],
  relay: [join(here, 'relay.mjs')],
};

const dialects: Record<SideName, Dialect> = {
  Stemline: 'sync',
  'websocket-server': 'sync',
  hocuspocus: 'addressed',
  relay: 'blind',
};

/** Starts one; resolves once it listens. */
export async function startSide(name: SideName, env: Record<string, string> = {}): Promise<Side> {
  const port = await freePort();
  const child = spawn(
    process.execPath,
    ['--expose-gc', '--import', join(here, 'report.mjs'), ...programs[name]],
    {
      cwd: name === 'hocuspocus' ? join(peersFolder, name) : projectRoot,
      env: { ...process.env, HOST: '127.0.0.1', PORT: String(port), ...env },
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    },
  );
  let said = '';
  child.stderr?.on('data', (chunk: Buffer) => {
    said = (said + chunk.toString()).slice(-5_000);
    if (process.env.ROOMS_LOG) process.stderr.write(chunk);
  });
  await listening(child, port, () => said);
  return {
    name,
    dialect: dialects[name],
    url: `ws://127.0.0.1:${port}${name === 'Stemline' ? '/rooms' : ''}`,
    pid: child.pid ?? 0,
    cost: (collect = false) => askCost(child, collect),
    stop: () => stop(child),
  };
}

function askCost(child: ChildProcess, collect: boolean): Promise<Cost> {
  return new Promise((resolve, reject) => {
    child.once('message', (cost) => resolve(cost as Cost));
    child.send({ collect }, (error) => error && reject(error));
  });
}

async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGTERM');
  const late = setTimeout(() => child.kill('SIGKILL'), 15_000);
  await gone;
  clearTimeout(late);
}

async function listening(child: ChildProcess, port: number, said: () => string): Promise<void> {
  const deadline = performance.now() + 60_000;
  while (!(await answers(port))) {
    if (child.exitCode !== null || performance.now() > deadline) {
      child.kill('SIGKILL');
      throw new Error(`a server under test does not start: ${said()}`);
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

const answers = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    socket.once('connect', () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(false));
  });
