import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmod, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import pg from 'pg';
import pino from 'pino';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { built, mapped } from '../built.ts';
import { CannotStart } from '../cannot-start.ts';
import { loadDemo } from '../demo/load.ts';
import { startEmbeddedPostgres } from '../embedded/postgres.ts';
import { projectRoot, readEnv } from '../env.ts';
import { readMigrations } from '../migrations/folder.ts';
import { migrate } from '../migrations/migrate.ts';
import { startServer } from '../server.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import { backUp } from './backup.ts';
import { writeBackup } from './file.ts';
import { restoreBackup } from './restore.ts';
import { migrationsOf, quoted, tablesOf } from './tables.ts';

const at = new Date('2026-09-15T21:10:00.000Z');
let stage: TestApp;
let folder: string;
let names = 0;

beforeAll(async () => {
  stage = await startApp();
  await loadDemo(stage.deps);
  // What a column can hold at its worst: bytes, null, text of every kind, numbers at their ends.
  const board = await stage.prisma.board.findFirstOrThrow();
  await stage.prisma.boardUpdate.create({
    data: { boardId: board.id, bytes: Uint8Array.from({ length: 256 }, (_, n) => n), at },
  });
  await stage.prisma.boardClient.create({
    data: { boardId: board.id, clientId: BigInt(Number.MAX_SAFE_INTEGER), memberId: null },
  });
  await stage.prisma.quarantine.create({
    data: {
      boardId: board.id,
      memberId: 'x',
      code: 'y',
      why: '"\\\n\t😀 \u2028',
      bytes: new Uint8Array(),
    },
  });
});
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stemline-backup-'));
  await chmod(folder, 0o711);
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function withClient<T>(url: string, use: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await use(client);
  } finally {
    await client.end();
  }
}

const made: string[] = [];
/** A database without any table. */
async function emptyDatabase(): Promise<string> {
  names += 1;
  const url = new URL(inject('templateUrl'));
  const name = `restored_${process.pid}_${names}`;
  url.pathname = '/postgres';
  await withClient(url.href, (client) => client.query(`CREATE DATABASE ${name}`));
  made.push(name);
  url.pathname = `/${name}`;
  return url.href;
}
afterAll(async () => {
  const url = new URL(inject('templateUrl'));
  url.pathname = '/postgres';
  for (const name of made)
    await withClient(url.href, (client) => client.query(`DROP DATABASE ${name} WITH (FORCE)`));
});

/** Every row of every table as text, and where every sequence goes on. */
const everything = (url: string) =>
  withClient(url, async (client) => {
    const tables: Record<string, string[]> = {};
    for (const table of await tablesOf(client)) {
      const { rows } = await client.query<{ row: string }>(
        `SELECT t::text AS row FROM ${quoted(table)} t ORDER BY t::text COLLATE "C"`,
      );
      tables[table] = rows.map(({ row }) => row);
    }
    return { tables, migrations: await migrationsOf(client) };
  });
const columns = (url: string) =>
  withClient(url, async (client) => {
    const { rows } = await client.query(
      `SELECT table_name, column_name, data_type, is_nullable, column_default
       FROM information_schema.columns WHERE table_schema = 'public' ORDER BY 1, 2`,
    );
    return rows;
  });

describe('a backup that was restored', () => {
  it('is the store again, row for row, column for column, and goes on counting', async () => {
    const file = join(folder, 'all.gz');
    const written = await backUp(stage.url, file, at);
    expect(written.BoardUpdate).toBeGreaterThan(5);
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    const url = await emptyDatabase();
    expect(await restoreBackup(url, file, await readMigrations(), { over: false })).toEqual(
      written,
    );
    expect(await everything(url)).toEqual(await everything(stage.url));
    expect(await columns(url)).toEqual(await columns(stage.url));
    const [last, next] = await withClient(url, async (client) => {
      const { rows } = await client.query('SELECT max(id)::int AS last FROM "BoardUpdate"');
      const inserted = await client.query(
        `INSERT INTO "BoardUpdate" ("boardId", bytes) SELECT id, '' FROM "Board" LIMIT 1 RETURNING id::int`,
      );
      return [rows[0].last, inserted.rows[0].id];
    });
    expect(next).toBe(last + 1);
    // A second one brings back the same store: nothing of the first was left.
    const schemas = await withClient(url, (client) =>
      client.query(`SELECT nspname FROM pg_namespace WHERE nspname !~ '^(pg_|information_schema)'`),
    );
    expect(schemas.rows).toEqual([{ nspname: 'public' }]);
  });

  it('is one moment of a store that goes on being written to', async () => {
    const writer = new pg.Client({ connectionString: stage.url });
    await writer.connect();
    let writing = true;
    let pairs = 0;
    // Each transaction writes a pair, its halves in tables that are read at different times.
    const writes = (async () => {
      while (writing) {
        const id = `pair${pairs}`;
        await writer.query('BEGIN');
        await writer.query(
          `INSERT INTO verification (id, identifier, value, "expiresAt", "updatedAt") VALUES ($1, $1, '', now(), now())`,
          [id],
        );
        await writer.query(`INSERT INTO "Staff" (id, name) VALUES ($1, 'pair')`, [id]);
        await writer.query('COMMIT');
        pairs += 1;
      }
    })();
    const file = join(folder, 'running.gz');
    await expect.poll(() => pairs).toBeGreaterThan(20);
    await backUp(stage.url, file, at);
    await expect.poll(() => pairs).toBeGreaterThan(40);
    writing = false;
    await writes;
    await writer.end();
    const url = await emptyDatabase();
    await restoreBackup(url, file, await readMigrations(), { over: false });
    const { tables } = await everything(url);
    const halves = (table: string): string[] =>
      (tables[table] ?? []).flatMap((row) => /pair\d+/.exec(row)?.[0] ?? []).sort();
    expect(halves('Staff')).toEqual(halves('verification'));
    expect(halves('Staff').length).toBeGreaterThan(0);
    expect(halves('Staff').length).toBeLessThan(pairs);
  });
});

describe('a restore refuses, and changes nothing,', () => {
  const refuses = async (url: string, file: string, why: RegExp, over = false): Promise<void> => {
    const before = await everything(url).catch(() => null);
    const restoring = restoreBackup(url, file, await readMigrations(), { over });
    await expect(restoring).rejects.toThrow(CannotStart);
    await expect(restoring).rejects.toThrow(why);
    expect(await everything(url).catch(() => null)).toEqual(before);
  };

  it('a store that holds something, unless it is told to put the backup in its place', async () => {
    const file = join(folder, 'small.gz');
    await backUp(stage.url, file, at);
    const url = await emptyDatabase();
    const migrations = await readMigrations();
    await migrate(url, migrations);
    await withClient(url, (client) =>
      client.query(`INSERT INTO "Staff" (id, name) VALUES ('other', 'Other')`),
    );
    await refuses(url, file, /not empty.*--over/);
    await restoreBackup(url, file, migrations, { over: true });
    expect(await everything(url)).toEqual(await everything(stage.url));
  });

  it('a store that somebody works on', async () => {
    const file = join(folder, 'small.gz');
    await backUp(stage.url, file, at);
    const url = await emptyDatabase();
    await withClient(url, () => refuses(url, file, /in use \(1 connection\)/));
  });

  it('a file that is cut off, changed, or no backup', async () => {
    const file = join(folder, 'whole.gz');
    await backUp(stage.url, file, at);
    const url = await emptyDatabase();
    await migrate(url, await readMigrations());
    const whole = await readFile(file);
    const text = gunzipSync(whole).toString('utf8');
    const lines = text.trimEnd().split('\n');
    const cases: [Uint8Array | string, RegExp][] = [
      [whole.subarray(0, whole.length / 2), /cannot be used/],
      [gzipSync(`${lines.slice(0, -1).join('\n')}\n`), /it is cut off/],
      [gzipSync(text.replace('"Whitlock', '"Whitlocks').replace('Dana', 'Dina')), /it was changed/],
      [gzipSync(`${lines.toSpliced(3, 1).join('\n')}\n`), /it was changed/],
      [gzipSync(`${text}{}\n`), /there is more after its end/],
      [gzipSync('{"format":"other"}\n'), /no backup of Stemline/],
      [gzipSync('hello\n'), /cannot be used/],
      ['hello', /cannot be used/],
      ['', /cannot be used/],
    ];
    for (const [n, [content, why]] of cases.entries()) {
      const broken = join(folder, `broken${n}.gz`);
      await writeFile(broken, content);
      await refuses(url, broken, why, true);
    }
    await refuses(url, join(folder, 'missing.gz'), /cannot be used/);
  });

  it('a file of a newer build', async () => {
    const file = join(folder, 'newer.gz');
    const { migrations } = await everything(stage.url);
    const writer = await writeBackup(file, {
      format: 'stemline-backup',
      version: 1,
      at: at.toISOString(),
      migrations: [...migrations, '29990101000000_tomorrow'],
    });
    await writer.end();
    await refuses(await emptyDatabase(), file, /made by another build/);
  });

  it('to serve a store in which a restore was broken off, until what was there before is back', async () => {
    const file = join(folder, 'small.gz');
    await backUp(stage.url, file, at);
    const url = await emptyDatabase();
    const migrations = await readMigrations();
    await restoreBackup(url, file, migrations, { over: false });
    const before = await everything(url);
    // As a restore leaves it that is killed while it loads.
    await withClient(url, (client) =>
      client.query('ALTER SCHEMA public RENAME TO before_restore; CREATE SCHEMA public'),
    );
    const env = readEnv({ DATABASE_URL: url, DATA_DIR: folder, DEMO: '0', PORT: '0' });
    const started = startServer(env, pino({ level: 'silent' }), () => undefined);
    await expect(started.then(({ stop }) => stop())).rejects.toThrow(/restore.*broken off/);
    const again = restoreBackup(url, file, migrations, { over: false });
    await expect(again).rejects.toThrow(/not empty.*--over/);
    expect(await everything(url)).toEqual(before);
  });

  it('and puts back what was there when the rows do not fit', async () => {
    const file = join(folder, 'whole.gz');
    await backUp(stage.url, file, at);
    const url = await emptyDatabase();
    const migrations = await readMigrations();
    await restoreBackup(url, file, migrations, { over: false });
    const before = await everything(url);
    // A build whose first migration lacks a table that the backup has rows of.
    const lacking = {
      ...migrations,
      migrationDirectories: migrations.migrationDirectories.map((directory, n) => ({
        ...directory,
        ...(n === 0
          ? {
              migrationFile: {
                path: 'migration.sql',
                content: {
                  tag: 'ok' as const,
                  value: 'CREATE TABLE "Staff" (id text primary key);',
                },
              },
            }
          : {}),
      })),
    };
    await expect(restoreBackup(url, file, lacking, { over: true })).rejects.toThrow();
    expect(await everything(url)).toEqual(before);
  });

  it('to write over a file', async () => {
    const file = join(folder, 'there');
    await writeFile(file, 'mine');
    await expect(backUp(stage.url, file, at)).rejects.toThrow(CannotStart);
    expect(await readFile(file, 'utf8')).toBe('mine');
    expect(await readdir(folder)).toEqual(['there']);
  });
});

describe('npm run backup and npm run restore', () => {
  const running = new Set<ChildProcess>();
  afterEach(() => {
    for (const child of running) child.kill('SIGKILL');
    running.clear();
  });
  async function command(name: 'backup' | 'restore', args: string[], dataDir: string) {
    const child = spawn(process.execPath, [mapped, built(name), ...args], {
      cwd: projectRoot,
      env: { ...process.env, DATA_DIR: dataDir, DATABASE_URL: '' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    running.add(child);
    let said = '';
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (part: string) => {
        said += part;
      });
    const [code] = await once(child, 'close');
    running.delete(child);
    return { code, said };
  }

  it('work on the embedded store: the one while Stemline runs, the other only when it does not', async () => {
    const dataDir = join(folder, 'data');
    const file = join(folder, 'kept.gz');
    expect(await command('backup', [file], dataDir)).toMatchObject({ code: 1 });
    const database = await startEmbeddedPostgres({ dataDir, say: () => undefined });
    try {
      await migrate(database.url, await readMigrations());
      await withClient(database.url, (client) =>
        client.query(`INSERT INTO "Staff" (id, name) VALUES ('alder', 'Alder Point')`),
      );
      const backup = await command('backup', [file], dataDir);
      expect(backup, backup.said).toMatchObject({ code: 0 });
      expect(backup.said).toContain('1 staffs, 0 boards');
      const nowhere = await command('backup', [join(folder, 'no such folder', 'x.gz')], dataDir);
      expect(nowhere).toMatchObject({ code: 1 });
      expect(nowhere.said).toMatch(/cannot be written \(ENOENT\): name a file/);
      expect(nowhere.said.trim().split('\n')).toHaveLength(1);
      const refused = await command('restore', [file, '--over'], dataDir);
      expect(refused).toMatchObject({ code: 1 });
      expect(refused.said).toMatch(/already runs/);
    } finally {
      await database.stop();
    }
    expect((await command('restore', [file], dataDir)).said).toMatch(/not empty/);
    const other = join(folder, 'other');
    const restored = await command('restore', [file], other);
    expect(restored, restored.said).toMatchObject({ code: 0 });
    // Nothing runs on it any more, and what was restored is backed up as it was.
    const again = join(folder, 'again.gz');
    expect(await command('backup', [again], other)).toMatchObject({ code: 0 });
    const rowsOf = async (path: string): Promise<string> =>
      gunzipSync(await readFile(path))
        .toString('utf8')
        .split('\n')
        .slice(1, -2)
        .join('\n');
    expect(await rowsOf(again)).toBe(await rowsOf(file));
    expect(await command('restore', [], other)).toMatchObject({ code: 2 });
  }, 120_000);
});
