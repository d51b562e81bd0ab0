/**
 * `npm run backup -- FILE`: writes everything the store holds to a new file, all of it as it stood at one
 * moment; Stemline may run meanwhile. The store is that of DATABASE_URL, or the embedded one in DATA_DIR.
 * Exit code 0: written; 1: not, for the reason on standard error; 2: not asked well.
 */
import { parseArgs } from 'node:util';
import { backUp } from '../backup/backup.ts';
import { withStore } from '../backup/store.ts';
import { CannotStart } from '../cannot-start.ts';
import { readEnv } from '../env.ts';

const { positionals } = parseArgs({ allowPositionals: true });
const [file, ...more] = positionals;
if (file === undefined || more.length > 0) {
  console.error('Name the file to write: npm run backup -- stemline.backup.gz');
  process.exit(2);
}
try {
  const rows = await withStore(readEnv(process.env), (url) => backUp(url, file, new Date()));
  const all = Object.values(rows).reduce((sum, count) => sum + count, 0);
  console.log(
    `${file} holds ${all} rows: ${rows.Staff ?? 0} staffs, ${rows.Board ?? 0} boards, ${rows.BoardUpdate ?? 0} edits.`,
  );
  console.log('It holds e-mail addresses and password hashes too: keep it where only you read it.');
} catch (error) {
  if (!(error instanceof CannotStart)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
