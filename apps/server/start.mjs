// `npm start`: makes the clone ready, then runs the server in this very process, so that signals and
// the exit code are the server's own. `--prepare` stops after the first half.
import { NotReady, prepare } from './prepare.mjs';

try {
  await prepare();
} catch (error) {
  if (!(error instanceof NotReady)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exit(1);
}
if (!process.argv.includes('--prepare')) {
  const { register } = await import('tsx/esm/api');
  register();
  await import('./src/main.ts');
}
