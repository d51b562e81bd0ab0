// Type-checks every workspace and the tests, each with the globals it really has.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';

const projects = ['.'];
for (const folder of ['packages', 'apps']) {
  for (const name of readdirSync(folder)) {
    if (existsSync(`${folder}/${name}/tsconfig.json`)) projects.push(`${folder}/${name}`);
  }
}

let failed = 0;
for (const project of projects) {
  const run = spawnSync('npx', ['tsc', '-p', project], { stdio: 'inherit' });
  if (run.status !== 0) {
    console.error(`types: ${project} has errors`);
    failed++;
  }
}
process.exit(failed === 0 ? 0 : 1);
