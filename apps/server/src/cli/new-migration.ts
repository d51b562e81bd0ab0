import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedPostgres } from '../embedded/postgres.ts';
import { projectRoot } from '../env.ts';
import { withEngine } from '../migrations/engine.ts';
import { migrationsFolder, schemaFile } from '../migrations/folder.ts';

/**
 * Drafts the migration that leads from the committed schema to prisma/schema.prisma as it is now:
 * `npm run migration -- NAME`. A schema and its migration are committed together, so the schema of
 * the last commit is what the migrations so far lead to; `migrations/migrate.test.ts` holds us to it.
 * Read the draft before you commit it: a renamed column is dropped and added unless you say otherwise.
 */
const name = process.argv[2];
if (name === undefined || !/^[a-z0-9_]{1,60}$/.test(name)) {
  console.error(
    'Name the migration in small letters, digits and _: npm run migration -- add_install_days',
  );
  process.exit(2);
}

const committed = spawnSync('git', ['show', 'HEAD:prisma/schema.prisma'], {
  cwd: projectRoot,
  encoding: 'utf8',
});
if (committed.status !== 0)
  throw new Error(`git does not show the committed schema: ${committed.stderr}`);

const datamodel = (content: string) => ({
  tag: 'schemaDatamodel' as const,
  files: [{ path: schemaFile, content }],
});
const first = !existsSync(migrationsFolder);
// Comparing two schemas asks no database, but the engine does not start without one.
const dataDir = await mkdtemp(join(tmpdir(), 'stemline-migration-'));
// As root the database runs as another user, who must get in.
await chmod(dataDir, 0o711);
const database = await startEmbeddedPostgres({ dataDir, say: console.log });
const wanted = await readFile(schemaFile, 'utf8');
const { stdout: sql } = await withEngine(database.url, (engine) =>
  engine.diff({
    from: first ? { tag: 'empty' } : datamodel(committed.stdout),
    to: datamodel(wanted),
    script: true,
    exitCode: null,
    filters: { externalTables: [], externalEnums: [] },
  }),
);
await database.stop();
await rm(dataDir, { recursive: true, force: true });
if (sql === null || sql.includes('-- This is an empty migration.')) {
  console.log('The schema is as it was committed: nothing to migrate.');
} else {
  const stamp = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
  const folder = join(migrationsFolder, `${stamp}_${name}`);
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, 'migration.sql'), sql);
  console.log(`Wrote ${join(folder, 'migration.sql')}`);
}
