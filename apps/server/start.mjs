// `npm start`: makes the clone ready, then runs the server in this very process, so that signals and
// the exit code are the server's own. `--prepare` stops after the first half.
import { makeReady, runBuilt } from './prepare.mjs';

await makeReady();
if (!process.argv.includes('--prepare')) await runBuilt('main');
