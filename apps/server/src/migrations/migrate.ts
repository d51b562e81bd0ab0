import type { DiagnoseMigrationHistoryOutput, MigrationList } from '@prisma/schema-engine-wasm';
import { CannotStart } from '../cannot-start.ts';
import { withEngine } from './engine.ts';

const filters = { externalTables: [], externalEnums: [] };

/**
 * Brings the database to the schema of these migrations and returns the names of those it applied.
 * Refuses, with `CannotStart`, a database that a newer build has migrated, one in which a migration
 * failed half-way, and one whose applied migrations differ from ours. Call it `alone`.
 */
export async function migrate(url: string, migrationsList: MigrationList): Promise<string[]> {
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
