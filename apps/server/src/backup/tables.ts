import type pg from 'pg';

/** Prisma's own record of migrations: a restore makes it anew. */
const ownOfMigrations = '_prisma_migrations';

/** Every table of the schema, each after those that it refers to. */
export async function tablesOf(client: pg.Client): Promise<string[]> {
  const { rows: tables } = await client.query<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables
     WHERE schemaname = 'public' AND tablename <> $1 ORDER BY tablename`,
    [ownOfMigrations],
  );
  const { rows: references } = await client.query<{ from: string; to: string }>(
    `SELECT f.relname AS from, t.relname AS to FROM pg_constraint c
     JOIN pg_class f ON f.oid = c.conrelid JOIN pg_class t ON t.oid = c.confrelid
     WHERE c.contype = 'f' AND c.connamespace = 'public'::regnamespace AND c.conrelid <> c.confrelid`,
  );
  const ordered: string[] = [];
  let left = tables.map(({ name }) => name);
  while (left.length > 0) {
    const ready = left.filter((name) =>
      references.every(({ from, to }) => from !== name || ordered.includes(to)),
    );
    if (ready.length === 0) throw new Error(`the tables ${left.join(', ')} refer to one another`);
    ordered.push(...ready);
    left = left.filter((name) => !ready.includes(name));
  }
  return ordered;
}

/** The migrations that a database has, oldest first. */
export async function migrationsOf(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(
    `SELECT migration_name AS name FROM ${ownOfMigrations}
     WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name`,
  );
  return rows.map(({ name }) => name);
}

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
