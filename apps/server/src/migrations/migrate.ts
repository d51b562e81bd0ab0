import type { DiagnoseMigrationHistoryOutput, MigrationList } from '@prisma/schema-engine-wasm';
import pg from 'pg';
import { CannotStart } from '../cannot-start.ts';
import { withEngine } from './engine.ts';
import { readMigrations } from './folder.ts';

/** Any number that nothing else of ours locks: processes that start at once migrate one after another. */
const migrationLock = 4_600_001;

const filters = { externalTables: [], externalEnums: [] };

/**
 * Brings the database to this build's schema and returns the names of the migrations it applied.
 * Refuses, with `CannotStart`, a database that a newer build has migrated, one in which a migration
 * failed half-way, and one whose applied migrations differ from ours.
 */
export async function migrate(url: string, migrations?: MigrationList): Promise<string[]> {
  const migrationsList = migrations ?? (await readMigrations());
  const guard = new pg.Client({ connectionString: url });
  await guard.connect();
  try {
    await guard.query('SELECT pg_advisory_lock($1)', [migrationLock]);
    return await withEngine(url, async (engine) => {
      const found = await engine.diagnoseMigrationHistory({
        migrationsList,
        optInToShadowDatabase: false,
        filters,
      });
      const refused = whyRefused(found);
      if (refused !== null) throw new CannotStart(refused);
      return (await engine.applyMigrations({ migrationsList, filters })).appliedMigrationNames;
    });
  } finally {
    // Ending the connection gives the lock back.
    await guard.end();
  }
}

function whyRefused(found: DiagnoseMigrationHistoryOutput): string | null {
  const { history } = found;
  if (
    history?.diagnostic === 'migrationsDirectoryIsBehind' ||
    history?.diagnostic === 'historiesDiverge'
  ) {
    const unknown = history.unpersistedMigrationNames.join(', ');
    return `The database was migrated by a newer Stemline (${unknown} is unknown to this build): start that build, or restore a backup from before.`;
  }
  if (found.failedMigrationNames.length > 0) {
    return `The migration ${found.failedMigrationNames.join(', ')} failed half-way in this database: restore the backup from before it, then start again.`;
  }
  if (found.editedMigrationNames.length > 0) {
    return `The migration ${found.editedMigrationNames.join(', ')} was applied to this database in another wording: a released migration must not be changed.`;
  }
  return null;
}

/** How many migrations of this build the database still lacks: what readiness asks. */
export async function countUnapplied(
  query: (sql: string) => Promise<{ migration_name: string }[]>,
  migrations: MigrationList,
): Promise<number> {
  const applied = new Set(
    (
      await query(
        'SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL',
      )
    ).map((row) => row.migration_name),
  );
  return migrations.migrationDirectories.filter(({ path }) => !applied.has(path)).length;
}
