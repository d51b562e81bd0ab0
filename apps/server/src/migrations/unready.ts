import { setTimeout as pause } from 'node:timers/promises';
import type { MigrationList } from '@prisma/schema-engine-wasm';
import { z } from 'zod';
import type { Prisma } from '../database.ts';

const silent = Symbol('silent');
const rowsSchema = z.array(z.object({ name: z.string() }));

/** A database that is silent for so long cannot serve: whoever asks must hear that rather than wait with it. */
const patienceMs = 3_000;

/** Why the database cannot serve now; null when it can. */
export async function whyUnready(
  prisma: Pick<Prisma, '$queryRaw'>,
  migrations: MigrationList,
): Promise<string | null> {
  const asked = prisma.$queryRaw`
    SELECT migration_name AS name FROM _prisma_migrations
    WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`;
  const timer = new AbortController();
  const silence = pause(patienceMs, silent, { signal: timer.signal });
  silence.catch(() => undefined);
  let rows: unknown;
  try {
    rows = await Promise.race([asked, silence]);
    if (rows === silent) return 'The database does not answer.';
  } catch {
    return 'The database cannot be reached, or was never migrated.';
  } finally {
    timer.abort();
  }
  const applied = new Set(rowsSchema.parse(rows).map(({ name }) => name));
  const missing = migrations.migrationDirectories.filter(({ path }) => !applied.has(path)).length;
  return missing === 0 ? null : `The database lacks ${missing} of this build's migrations.`;
}
