import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { prepare } from '../../prepare.mjs';
import { startEmbeddedPostgres } from '../embedded/postgres.ts';
import { readMigrations } from '../migrations/folder.ts';
import { migrate } from '../migrations/migrate.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** A migrated, empty database that nobody writes to: test files copy it (`database.ts`). */
    templateUrl: string;
  }
}

/**
 * What processes and threads begin with is built, and one PostgreSQL started, for a whole test run. It need
 * not outlive a power cut, so it does not wait for the disk.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  await prepare({ webApp: false });
  const dataDir = await mkdtemp(join(tmpdir(), 'stemline-test-'));
  await chmod(dataDir, 0o711);
  const database = await startEmbeddedPostgres({
    dataDir,
    say: (sentence) => process.stdout.write(`${sentence}\n`),
    settings: [
      'fsync=off',
      'synchronous_commit=off',
      'full_page_writes=off',
      'max_connections=300',
    ],
  });
  await migrate(database.url, await readMigrations());
  project.provide('templateUrl', database.url);
  return async () => {
    await database.stop();
    await rm(dataDir, { recursive: true, force: true });
  };
}
