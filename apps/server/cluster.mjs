// `npm run cluster`: makes the clone ready, then runs several servers behind one port: a PostgreSQL and a
// Redis of their own unless DATABASE_URL and REDIS_URL name others. `-- --processes=3` says how many.
import { makeReady, runBuilt } from './prepare.mjs';

await makeReady();
await runBuilt('cluster');
