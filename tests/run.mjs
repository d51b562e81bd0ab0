// `npm test`: installs what is missing, then runs every check. Needs nothing but Node to begin with.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';
import { NotReady, prepare } from '../apps/server/prepare.mjs';

const root = resolve(import.meta.dirname, '..');
process.chdir(root);
const results = join(root, 'test-results');

const chromiums = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

// Debian keeps haproxy where only root looks.
process.env.PATH = [process.env.PATH, '/usr/sbin'].join(delimiter);

/** What the tests drive and npm does not bring: where apt can bring it, it is brought. */
function installWithApt(name, debian, isThere, need) {
  if (isThere()) return;
  console.log(`Installing ${name} with apt …`);
  // A service that Debian would start is none of ours: the tests start their own.
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive', RUNLEVEL: '1' };
  const quiet = { stdio: 'ignore', env };
  spawnSync('apt-get', ['update'], quiet);
  spawnSync('apt-get', ['install', '-y', '--no-install-recommends', debian], quiet);
  if (isThere()) return;
  throw new NotReady(
    `${need}, and apt could not install it here: run "sudo apt-get install ${debian}"${debian === 'chromium' ? ', or set CHROMIUM to the path of one' : ''}.`,
  );
}

function installPrograms() {
  installWithApt(
    'Chromium',
    'chromium',
    () => chromiums.some((path) => path && existsSync(path)),
    'The browser journeys need Chromium',
  );
  installWithApt(
    'Redis',
    'redis-server',
    () => spawnSync('redis-server', ['--version'], { stdio: 'ignore' }).status === 0,
    'The tests of several servers need redis-server',
  );
  installWithApt(
    'HAProxy',
    'haproxy',
    () => spawnSync('haproxy', ['-v'], { stdio: 'ignore' }).status === 0,
    'The test of the proxy in docker-compose.yml needs haproxy',
  );
}

function step(name, program, args) {
  const began = Date.now();
  console.log(`\n— ${name}`);
  const { status } = spawnSync(program, args, { stdio: 'inherit', shell: false });
  console.log(
    `  ${status === 0 ? 'done' : 'FAILED'} in ${Math.round((Date.now() - began) / 1000)} s`,
  );
  return status === 0;
}

const npm = (script) => ['npm', ['run', '--silent', script]];
const vitest = (project) => [
  'npx',
  [
    'vitest',
    'run',
    ...project.flatMap((one) => ['--project', one]),
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${join(results, `${project[0]}.json`)}`,
  ],
];

/** [passed, failed] of one vitest run; a run that wrote nothing counts as one failure. */
function countOf(project) {
  const file = join(results, `${project}.json`);
  if (!existsSync(file)) return [0, 1];
  const { numPassedTests, numFailedTests, numFailedTestSuites } = JSON.parse(
    readFileSync(file, 'utf8'),
  );
  return [numPassedTests, Math.max(numFailedTests, numFailedTestSuites > 0 ? 1 : 0)];
}

try {
  await prepare();
  installPrograms();
} catch (error) {
  if (!(error instanceof NotReady)) throw error;
  console.error(error.message);
  process.exit(1);
}

rmSync(results, { recursive: true, force: true });
const steps = [
  ['types', ...npm('types')],
  ['lint', ...npm('lint')],
  ['import arrows', ...npm('imports')],
  ['unused code', ...npm('unused')],
  ['unit, property and published checks', ...vitest(['packages', 'published', 'web'])],
  ['server and rooms', ...vitest(['server'])],
  ['browser journeys', ...vitest(['journeys'])],
];
const failed = steps
  .filter(([name, program, args]) => !step(name, program, args))
  .map(([name]) => name);

const counts = ['packages', 'server', 'journeys'].map(countOf);
const passedTests = counts.reduce((sum, [passed]) => sum + passed, 0);
const failedTests = counts.reduce((sum, [, broken]) => sum + broken, 0);
if (failed.length > 0) console.log(`\nFailed: ${failed.join(', ')}`);
// A check that is no test (types, lint …) and failed counts as one.
const others = failed.filter((name) => !steps.slice(4).some(([tests]) => tests === name)).length;
console.log(`\n${passedTests} passed, ${failedTests + others} failed`);
process.exit(failed.length === 0 ? 0 : 1);
