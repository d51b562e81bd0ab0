import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedPostgres } from '../../../apps/server/src/embedded/postgres.ts';
import { readMigrations } from '../../../apps/server/src/migrations/folder.ts';
import { migrate } from '../../../apps/server/src/migrations/migrate.ts';

export interface TestPostgres {
  url: string;
  dataDir: string;
  stop(): Promise<void>;
}

/** A real PostgreSQL with our schema, in a folder of its own. `keep`: the folder outlives it. */
export async function startPostgres(dataDir?: string): Promise<TestPostgres> {
  const folder = dataDir ?? (await mkdtemp(join(tmpdir(), 'stemline-rooms-')));
  const postgres = await startEmbeddedPostgres({ dataDir: folder, say: () => undefined });
  await migrate(postgres.url, await readMigrations());
  return {
    url: postgres.url,
    dataDir: folder,
    stop: async () => {
      await postgres.stop();
      if (dataDir === undefined) await rm(folder, { recursive: true, force: true });
    },
  };
}
