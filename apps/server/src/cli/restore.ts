/**
 * `npm run restore -- FILE [--over]`: makes the store hold what a backup holds. Stemline must not run on it.
 * Without `--over` only an empty store is filled. Exit code 0: restored; 1: nothing was changed, for the
 * reason on standard error; 2: not asked well.
 */
import { parseArgs } from 'node:util';
import { restoreBackup } from '../backup/restore.ts';
import { withStoreAlone } from '../backup/store.ts';
import { CannotStart } from '../cannot-start.ts';
import { readEnv } from '../env.ts';
import { readMigrations } from '../migrations/folder.ts';

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { over: { type: 'boolean', default: false } },
});
const [file, ...more] = positionals;
if (file === undefined || more.length > 0) {
  console.error('Name the backup: npm run restore -- stemline.backup.gz [--over]');
  process.exit(2);
}
try {
  const migrations = await readMigrations();
  const rows = await withStoreAlone(readEnv(process.env), (url) =>
    restoreBackup(url, file, migrations, { over: values.over }),
  );
  const all = Object.values(rows).reduce((sum, count) => sum + count, 0);
  console.log(
    `Restored ${all} rows: ${rows.Staff ?? 0} staffs, ${rows.Board ?? 0} boards, ${rows.BoardUpdate ?? 0} edits.`,
  );
} catch (error) {
  if (!(error instanceof CannotStart)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
