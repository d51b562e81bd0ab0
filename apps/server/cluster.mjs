// `npm run cluster`: makes the clone ready, then runs several servers behind one port: a PostgreSQL and a
// Redis of their own unless DATABASE_URL and REDIS_URL name others. `-- --processes=3` says how many.
import { NotReady, prepare } from './prepare.mjs';

try {
  await prepare();
} catch (error) {
  if (!(error instanceof NotReady)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exit(1);
}
const { register } = await import('tsx/esm/api');
register();
await import('./src/cluster/main.ts');
