import type { MigrationList } from '@prisma/schema-engine-wasm';
import pg from 'pg';
import { CannotStart } from '../cannot-start.ts';
import { migrate } from '../migrations/migrate.ts';
import { readBackup } from './file.ts';
import { quoted, tablesOf } from './tables.ts';

/** Characters of rows that go into one statement; a single row may have more. */
const charactersAtOnce = 2_000_000;
/** Where what was there before stands until the restore has succeeded. */
const aside = 'before_restore';

/**
 * Makes a database hold what a backup holds and nothing else, then brings it to this build's schema. The
 * whole file is read through first; what was there before is put aside and comes back if anything fails.
 * Refuses, with `CannotStart`, a store that is in use, one that holds anything unless `over`, a file that
 * is damaged, and one of a newer build.
 */
export async function restoreBackup(
  url: string,
  file: string,
  migrations: MigrationList,
  { over }: { over: boolean },
): Promise<Record<string, number>> {
  const head = await readBackup(file);
  const ours = migrations.migrationDirectories.map(({ path }) => path);
  if (head.migrations.some((name, n) => name !== ours[n])) {
    throw new CannotStart(
      `The backup ${file} was made by another build than this one or one before it: restore it with that build.`,
    );
  }
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    await refuseIfInUse(client);
    await takeBackBrokenOff(client);
    if (!over && (await holdsAnything(client))) {
      throw new CannotStart(
        'The store is not empty: say --over to put the backup in its place, and everything that is there now is lost.',
      );
    }
    await client.query(
      `BEGIN; ALTER SCHEMA public RENAME TO ${aside}; CREATE SCHEMA public; COMMIT`,
    );
    try {
      const then = migrations.migrationDirectories.slice(0, head.migrations.length);
      await migrate(url, { ...migrations, migrationDirectories: then });
      const rows = await load(client, file);
      await migrate(url, migrations);
      await client.query(`DROP SCHEMA ${aside} CASCADE`);
      return rows;
    } catch (error) {
      await takeBackBrokenOff(client);
      throw error;
    }
  } finally {
    await client.end();
  }
}

/**
 * Refuses, with `CannotStart`, a store in which a restore is under way or was broken off: what counts is
 * aside, and whatever was written meanwhile would go when it is taken back.
 */
export async function refuseBrokenOff(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    if (!(await isAside(client))) return;
    throw new CannotStart(
      'A restore of this store is under way, or was broken off. Wait for it, or run it again: with --over it restores, without it brings back what was there before.',
    );
  } finally {
    await client.end();
  }
}

async function isAside(client: pg.Client): Promise<boolean> {
  const { rowCount } = await client.query('SELECT 1 FROM pg_namespace WHERE nspname = $1', [aside]);
  return rowCount !== 0;
}

async function refuseIfInUse(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ pids: number }>(
    `SELECT count(*)::int AS pids FROM pg_stat_activity
     WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'`,
  );
  const others = rows[0]?.pids ?? 0;
  if (others > 0) {
    throw new CannotStart(
      `The store is in use (${others} connection${others === 1 ? '' : 's'}): stop every Stemline on it first.`,
    );
  }
}

/** A restore that was broken off left what was there before aside: it counts, not what stands in its place. */
async function takeBackBrokenOff(client: pg.Client): Promise<void> {
  await client.query('ROLLBACK');
  if (!(await isAside(client))) return;
  await client.query(
    `BEGIN; DROP SCHEMA IF EXISTS public CASCADE; ALTER SCHEMA ${aside} RENAME TO public; COMMIT`,
  );
}

async function holdsAnything(client: pg.Client): Promise<boolean> {
  for (const table of await tablesOf(client)) {
    const { rowCount } = await client.query(`SELECT 1 FROM ${quoted(table)} LIMIT 1`);
    if (rowCount !== 0) return true;
  }
  return false;
}

async function load(client: pg.Client, file: string): Promise<Record<string, number>> {
  const loaded: Record<string, number> = {};
  const known = new Set(await tablesOf(client));
  let batch: { table: string; rows: string[]; characters: number } | null = null;
  const flush = async (): Promise<void> => {
    if (!batch) return;
    const { table, rows } = batch;
    batch = null;
    await client.query(
      `INSERT INTO ${quoted(table)} SELECT * FROM jsonb_populate_recordset(NULL::${quoted(table)}, $1::jsonb)`,
      [`[${rows.join(',')}]`],
    );
    loaded[table] = (loaded[table] ?? 0) + rows.length;
  };
  await client.query('BEGIN');
  await client.query("SET LOCAL TimeZone = 'UTC'");
  await readBackup(file, async (table, row) => {
    if (!known.has(table))
      throw new CannotStart(`The backup has a table ${table}, which is unknown.`);
    if (batch && (batch.table !== table || batch.characters + row.length > charactersAtOnce))
      await flush();
    batch ??= { table, rows: [], characters: 0 };
    batch.rows.push(row);
    batch.characters += row.length;
  });
  await flush();
  await countOn(client);
  await client.query('COMMIT');
  return loaded;
}

/** Sequences go on after the highest number that is there. */
async function countOn(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ table: string; column: string; sequence: string }>(
    `SELECT table_name AS table, column_name AS column,
            pg_get_serial_sequence(quote_ident(table_name), column_name) AS sequence
     FROM information_schema.columns
     WHERE table_schema = 'public' AND pg_get_serial_sequence(quote_ident(table_name), column_name) IS NOT NULL`,
  );
  for (const { table, column, sequence } of rows) {
    await client.query(
      `SELECT setval($1, COALESCE(max(${quoted(column)}), 1), max(${quoted(column)}) IS NOT NULL) FROM ${quoted(table)}`,
      [sequence],
    );
  }
}
