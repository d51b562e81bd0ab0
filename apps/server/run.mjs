// `node apps/server/run.mjs FILE.ts …`: makes ready what a command needs, which is no web app, then runs it in
// this very process, so that signals and the exit code are its own. Standard output is the command's alone.
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { makeReady, runTypeScript } from './prepare.mjs';

const [node, , file, ...words] = process.argv;
if (!file) throw new Error('Name the file to run.');
await makeReady({ webApp: false, tell: (sentence) => process.stderr.write(`${sentence}\n`) });
process.argv = [node, resolve(file), ...words];
await runTypeScript(pathToFileURL(resolve(file)));
