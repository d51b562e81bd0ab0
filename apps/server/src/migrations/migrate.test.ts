import { readFile } from 'node:fs/promises';
import type { MigrationList } from '@prisma/schema-engine-wasm';
import pg from 'pg';
import { describe, expect, it } from 'vitest';
import { CannotStart } from '../cannot-start.ts';
import { freshDatabase } from '../testing/database.ts';
import { alone } from './alone.ts';
import { withEngine } from './engine.ts';
import { readMigrations, schemaFile } from './folder.ts';
import { migrate } from './migrate.ts';
import { whyUnready } from './unready.ts';

const filters = { externalTables: [], externalEnums: [] };

async function rows(url: string, sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

const withOneMore = (list: MigrationList, name: string, sql: string): MigrationList => ({
  ...list,
  migrationDirectories: [
    ...list.migrationDirectories,
    { path: name, migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: sql } } },
  ],
});

/** Everything of the schema that can be asked of PostgreSQL, in a fixed order. */
async function schemaOf(url: string): Promise<unknown> {
  const ours = `table_schema = 'public' AND table_name <> '_prisma_migrations'`;
  return {
    columns: await rows(
      url,
      `SELECT table_name, column_name, data_type, udt_name, is_nullable, column_default
       FROM information_schema.columns WHERE ${ours} ORDER BY 1, 2`,
    ),
    indexes: await rows(
      url,
      `SELECT tablename, indexname, indexdef FROM pg_indexes
       WHERE schemaname = 'public' AND tablename <> '_prisma_migrations' ORDER BY 1, 2`,
    ),
    constraints: await rows(
      url,
      `SELECT conrelid::regclass::text AS on, conname, pg_get_constraintdef(oid) AS says FROM pg_constraint
       WHERE connamespace = 'public'::regnamespace AND contype <> 'n'
         AND conrelid::regclass::text <> '_prisma_migrations' ORDER BY 1, 2`,
    ),
    enums: await rows(
      url,
      `SELECT typname, enumlabel FROM pg_enum JOIN pg_type ON pg_type.oid = enumtypid
       ORDER BY typname, enumsortorder`,
    ),
  };
}

describe('migrating', () => {
  it('brings an empty database to the schema, and a second time changes nothing', async () => {
    const { url, prisma } = await freshDatabase({ migrated: false });
    const list = await readMigrations();
    expect(await whyUnready(prisma, list)).toMatch(/never migrated/);
    expect(await migrate(url, list)).toEqual(list.migrationDirectories.map(({ path }) => path));
    expect(await whyUnready(prisma, list)).toBeNull();
    await prisma.staff.create({ data: { name: 'Kept' } });
    expect(await migrate(url, list)).toEqual([]);
    expect(await prisma.staff.count()).toBe(1);
  });

  it('says of a database that is silent that it does not answer, and does not wait with it', async () => {
    const { url, prisma } = await freshDatabase();
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    try {
      await client.query('BEGIN; LOCK TABLE _prisma_migrations IN ACCESS EXCLUSIVE MODE');
      expect(await whyUnready(prisma, await readMigrations())).toMatch(/does not answer/);
    } finally {
      await client.end();
    }
    expect(await whyUnready(prisma, await readMigrations())).toBeNull();
  });

  it('leads exactly to prisma/schema.prisma', async () => {
    const migrated = await freshDatabase({ migrated: false });
    await migrate(migrated.url, await readMigrations());
    const drawn = await freshDatabase({ migrated: false });
    const content = await readFile(schemaFile, 'utf8');
    const { stdout } = await withEngine(drawn.url, (engine) =>
      engine.diff({
        from: { tag: 'empty' },
        to: { tag: 'schemaDatamodel', files: [{ path: schemaFile, content }] },
        script: true,
        exitCode: null,
        filters,
      }),
    );
    await rows(drawn.url, stdout ?? '');
    expect(await schemaOf(migrated.url)).toEqual(await schemaOf(drawn.url));
  });

  it('is done by one of several processes that start at once', async () => {
    const { url } = await freshDatabase({ migrated: false });
    const list = await readMigrations();
    const applied = await Promise.all([1, 2, 3].map(() => alone(url, () => migrate(url, list))));
    expect(applied.flat()).toEqual(list.migrationDirectories.map(({ path }) => path));
  });

  it('refuses a database that a newer build has migrated, in one sentence', async () => {
    const { url, prisma } = await freshDatabase();
    const list = await readMigrations();
    const newer = withOneMore(
      list,
      '29990101000000_from_the_future',
      'CREATE TABLE later (id int)',
    );
    expect(await whyUnready(prisma, newer)).toMatch(/lacks 1/);
    expect(await migrate(url, newer)).toEqual(['29990101000000_from_the_future']);
    await expect(migrate(url, list)).rejects.toThrow(CannotStart);
    await expect(migrate(url, list)).rejects.toThrow(
      /newer Stemline \(29990101000000_from_the_future is unknown/,
    );
  });

  it('refuses to go on after a migration that failed half-way', async () => {
    const { url } = await freshDatabase();
    const broken = withOneMore(await readMigrations(), '29990101000000_broken', 'SELECT nonsense');
    await expect(migrate(url, broken)).rejects.toThrow(/nonsense/);
    await expect(migrate(url, broken)).rejects.toThrow(/29990101000000_broken failed half-way/);
  });

  it('refuses a released migration that was changed', async () => {
    const { url } = await freshDatabase();
    const list = await readMigrations();
    const [first] = list.migrationDirectories;
    if (!first) throw new Error('there is a first migration');
    const edited: MigrationList = {
      ...list,
      migrationDirectories: list.migrationDirectories.map((directory) =>
        directory === first
          ? {
              ...first,
              migrationFile: { ...first.migrationFile, content: { tag: 'ok', value: 'SELECT 1' } },
            }
          : directory,
      ),
    };
    await expect(migrate(url, edited)).rejects.toThrow(
      /applied to this database in another wording/,
    );
  });
});
