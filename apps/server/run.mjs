// `node apps/server/run.mjs FILE.ts …`: makes ready what a command needs, which is no web app, then runs it in
// this very process, so that signals and the exit code are its own. Standard output is the command's alone.
import { basename, dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeReady, runBuilt, runTypeScript } from './prepare.mjs';

const [node, , named, ...words] = process.argv;
if (!named) throw new Error('Name the file to run.');
await makeReady({ webApp: false, tell: (sentence) => process.stderr.write(`${sentence}\n`) });
const file = resolve(named);
process.argv = [node, file, ...words];
const isOfServer = dirname(file) === fileURLToPath(new URL('src/cli', import.meta.url));
if (isOfServer) await runBuilt(basename(file, '.ts'));
else await runTypeScript(file);
