import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { MigrationList } from '@prisma/schema-engine-wasm';
import { projectRoot } from '../env.ts';

export const migrationsFolder = join(projectRoot, 'prisma', 'migrations');
export const schemaFile = join(projectRoot, 'prisma', 'schema.prisma');

/** The migrations of this build, oldest first, as the engine wants them. */
export async function readMigrations(baseDir = migrationsFolder): Promise<MigrationList> {
  const entries = await readdir(baseDir, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return {
    baseDir,
    lockfile: {
      path: 'migration_lock.toml',
      content: await readFile(join(baseDir, 'migration_lock.toml'), 'utf8'),
    },
    shadowDbInitScript: '',
    migrationDirectories: await Promise.all(
      names.sort().map(async (path) => ({
        path,
        migrationFile: {
          path: 'migration.sql',
          content: {
            tag: 'ok' as const,
            value: await readFile(join(baseDir, path, 'migration.sql'), 'utf8'),
          },
        },
      })),
    ),
  };
}
