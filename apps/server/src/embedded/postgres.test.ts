import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmod, mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { CannotStart } from '../cannot-start.ts';
import { projectRoot } from '../env.ts';
import { type EmbeddedPostgres, startEmbeddedPostgres } from './postgres.ts';

let dataDir: string;
const running: EmbeddedPostgres[] = [];

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'stemline-embedded-'));
  await chmod(dataDir, 0o711);
});
afterEach(async () => {
  for (const database of running.splice(0)) await database.stop();
  await rm(dataDir, { recursive: true, force: true });
});

async function start(): Promise<EmbeddedPostgres> {
  const database = await startEmbeddedPostgres({ dataDir, say: () => undefined });
  running.push(database);
  return database;
}

async function query(url: string, sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

/** Another process that holds the same data, as a second `npm start` would. */
async function anotherProcess(): Promise<{ child: ChildProcess; url: string }> {
  const script = `
    const { startEmbeddedPostgres } = await import('./apps/server/src/embedded/postgres.ts');
    const { url } = await startEmbeddedPostgres({ dataDir: process.argv[1], say: () => undefined });
    process.stdout.write(url + '\\n');
    setInterval(() => undefined, 1000);`;
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', '--input-type=module', '-e', script, dataDir],
    { cwd: projectRoot, stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const [line] = await once(child.stdout, 'data');
  return { child, url: String(line).trim() };
}

describe('the embedded database', () => {
  it('keeps its data from one start to the next', async () => {
    const first = await start();
    await query(first.url, 'CREATE TABLE kept AS SELECT 7 AS n');
    await first.stop();
    running.length = 0;
    const second = await start();
    expect(await query(second.url, 'SELECT n FROM kept')).toEqual([{ n: 7 }]);
  });

  it('listens on this machine only and asks for a password that its owner alone can read', async () => {
    const { url } = await start();
    expect(await query(url, 'SHOW listen_addresses')).toEqual([{ listen_addresses: '127.0.0.1' }]);
    expect(await query(url, 'SHOW unix_socket_directories')).toEqual([
      { unix_socket_directories: '' },
    ]);
    expect((await stat(join(dataDir, 'database-password'))).mode & 0o777).toBe(0o600);
    const wrong = new URL(url);
    wrong.password = 'guessed';
    await expect(query(wrong.href, 'SELECT 1')).rejects.toThrow(/password authentication failed/);
    expect((await readFile(join(dataDir, 'database-password'), 'utf8')).trim()).toBe(
      new URL(url).password,
    );
  });

  it('is held by one process at a time; the second is told by which', async () => {
    await start();
    await expect(startEmbeddedPostgres({ dataDir, say: () => undefined })).rejects.toThrow(
      CannotStart,
    );
    await expect(startEmbeddedPostgres({ dataDir, say: () => undefined })).rejects.toThrow(
      `already runs on the data in ${dataDir} (process ${process.pid})`,
    );
  });

  it('comes back whole after the app was killed and left it running', async () => {
    const { child, url } = await anotherProcess();
    await query(url, 'CREATE TABLE committed AS SELECT 1 AS n');
    child.kill('SIGKILL');
    await once(child, 'exit');
    expect(await query(url, 'SELECT n FROM committed')).toEqual([{ n: 1 }]);
    const after = await start();
    expect(await query(after.url, 'SELECT n FROM committed')).toEqual([{ n: 1 }]);
    await expect(query(url, 'SELECT 1')).rejects.toThrow();
  });

  it('comes back whole after app and database were both killed', async () => {
    const { child, url } = await anotherProcess();
    await query(url, 'CREATE TABLE committed AS SELECT 2 AS n');
    const pid = Number(
      (await readFile(join(dataDir, 'postgres', 'cluster', 'postmaster.pid'), 'utf8')).split(
        '\n',
      )[0],
    );
    child.kill('SIGKILL');
    process.kill(pid, 'SIGKILL');
    await once(child, 'exit');
    const after = await start();
    expect(await query(after.url, 'SELECT n FROM committed')).toEqual([{ n: 2 }]);
  });

  it('is started again when it ends by itself, at the same address', async () => {
    const restarts: string[] = [];
    const database = await startEmbeddedPostgres({
      dataDir,
      say: () => undefined,
      onRestart: (why) => restarts.push(why),
    });
    running.push(database);
    await query(database.url, 'CREATE TABLE committed AS SELECT 3 AS n');
    const pid = Number(
      (await readFile(join(dataDir, 'postgres', 'cluster', 'postmaster.pid'), 'utf8')).split(
        '\n',
      )[0],
    );
    process.kill(pid, 'SIGKILL');
    await expect
      .poll(() => query(database.url, 'SELECT n FROM committed').catch(() => null), {
        timeout: 20_000,
      })
      .toEqual([{ n: 3 }]);
    expect(restarts[0]).toMatch(/ended by itself \(SIGKILL\)/);
  });
});
