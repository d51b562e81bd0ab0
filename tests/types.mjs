// Type-checks every workspace and the tests, each with the globals it really has.
import { spawn } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';

// What takes longest comes first.
const projects = ['.'];
for (const folder of ['apps', 'packages']) {
  for (const name of readdirSync(folder)) {
    if (existsSync(`${folder}/${name}/tsconfig.json`)) projects.push(`${folder}/${name}`);
  }
}

/** Left to itself tsc checks one project on four threads, each of which finds out the same types again: twice the work. */
const check = (project) =>
  new Promise((done) => {
    const args = ['node_modules/typescript/bin/tsc', '--singleThreaded', '-p', project];
    spawn(process.execPath, args, { stdio: 'inherit' }).once('close', done);
  });

let failed = 0;
await Promise.all(
  Array.from({ length: availableParallelism() }, async () => {
    for (let project = projects.shift(); project; project = projects.shift()) {
      if ((await check(project)) === 0) continue;
      console.error(`types: ${project} has errors`);
      failed++;
    }
  }),
);
process.exit(failed === 0 ? 0 : 1);
