import type { MigrationList } from '@prisma/schema-engine-wasm';
import { z } from 'zod';
import type { Prisma } from '../database.ts';

const rowsSchema = z.array(z.object({ name: z.string() }));

/** Why the database cannot serve now; null when it can. */
export async function whyUnready(
  prisma: Prisma,
  migrations: MigrationList,
): Promise<string | null> {
  let rows: unknown;
  try {
    rows = await prisma.$queryRaw`
      SELECT migration_name AS name FROM _prisma_migrations
      WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`;
  } catch {
    return 'The database cannot be reached, or was never migrated.';
  }
  const applied = new Set(rowsSchema.parse(rows).map(({ name }) => name));
  const missing = migrations.migrationDirectories.filter(({ path }) => !applied.has(path)).length;
  return missing === 0 ? null : `The database lacks ${missing} of this build's migrations.`;
}
