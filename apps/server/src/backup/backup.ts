import { existsSync } from 'node:fs';
import pg from 'pg';
import { CannotStart } from '../cannot-start.ts';
import { writeBackup } from './file.ts';
import { migrationsOf, quoted, tablesOf } from './tables.ts';

/** Rows fetched at once; the largest, a board's whole state, may have megabytes. */
const rowsAtOnce = 25;

/**
 * Writes everything that a database holds to a file, all of it as it stood at one moment, while it goes
 * on being written to. Says how many rows of each table there were.
 */
export async function backUp(url: string, file: string, at: Date): Promise<Record<string, number>> {
  if (existsSync(file)) {
    throw new CannotStart(`There is a file ${file} already: name another, nothing is overwritten.`);
  }
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    // Every statement of it sees the database as the first one does.
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query("SET LOCAL TimeZone = 'UTC'");
    const backup = await writeBackup(file, {
      format: 'stemline-backup',
      version: 1,
      at: at.toISOString(),
      migrations: await migrationsOf(client),
    });
    try {
      for (const table of await tablesOf(client)) {
        await client.query(
          `DECLARE rows NO SCROLL CURSOR FOR SELECT to_jsonb(t)::text AS row FROM ${quoted(table)} t`,
        );
        for (;;) {
          const { rows } = await client.query<{ row: string }>(`FETCH ${rowsAtOnce} FROM rows`);
          for (const { row } of rows) await backup.row(table, row);
          if (rows.length < rowsAtOnce) break;
        }
        await client.query('CLOSE rows');
      }
      return await backup.end();
    } catch (error) {
      await backup.abandon();
      throw error;
    }
  } finally {
    await client.end();
  }
}
