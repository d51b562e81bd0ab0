// Makes a clone ready to run, with nothing but Node itself: installs what is missing, generates the
// database client, builds the server and the web app. Each step is skipped when nothing it depends on has changed.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const at = (...parts) => join(root, ...parts);

/** A sentence for whoever started it; ends the process with code 1. */
export class NotReady extends Error {}

/** What Vite and the rest are made for. */
function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const fits = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  if (!fits) {
    throw new NotReady(
      `Stemline needs Node 20.19 or newer (22.12 or newer of Node 22), and this is ${process.versions.node}: install it from your distribution or nodejs.org.`,
    );
  }
}

/**
 * Whether node_modules holds what package-lock.json names. npm writes what it has installed to
 * node_modules/.package-lock.json at the very end, so a broken-off install does not count.
 */
function isInstalled() {
  const installed = readJson(at('node_modules', '.package-lock.json'));
  const wanted = readJson(at('package-lock.json'));
  if (!installed || !wanted) return false;
  return Object.entries(wanted.packages).every(
    ([path, { version, link, optional, devOptional }]) => {
      if (!path.includes('node_modules/') || link || optional || devOptional) return true;
      return installed.packages[path]?.version === version && existsSync(at(path));
    },
  );
}

async function install(tell) {
  if (isInstalled()) return;
  tell('Installing packages (the first time takes a minute or two) …');
  const npm = process.env.npm_execpath;
  const args = ['ci', '--no-audit', '--no-fund', '--loglevel=error'];
  const [program, ...first] = npm?.endsWith('.js') ? [process.execPath, npm] : ['npm'];
  await run(program, [...first, ...args], {}, 'npm ci failed: is the npm registry reachable?');
}

/** Prisma asks for the path of an engine binary and, for generating, never runs it. */
async function generateClient(tell) {
  const schema = at('prisma', 'schema.prisma');
  const stamp = digest([schema, at('node_modules', 'prisma', 'package.json')]);
  const client = at('apps', 'server', 'src', 'generated', 'prisma', 'client.ts');
  if (existsSync(client) && stampOf('database-client') === stamp) return;
  tell('Generating the database client …');
  await run(
    process.execPath,
    [at('node_modules', 'prisma', 'build', 'index.js'), 'generate', '--schema', schema],
    {
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
    'Generating the database client failed.',
  );
  setStamp('database-client', stamp);
}

async function buildServer(tell) {
  const script = at('apps', 'server', 'build.mjs');
  const sources = [at('apps', 'server', 'src'), ...ourPackages()];
  const stamp = digest([script, ...sources.flatMap(filesIn), at('package-lock.json')]);
  if (existsSync(at('apps', 'server', 'dist', 'main.js')) && stampOf('server') === stamp) return;
  tell('Building the server …');
  await run(process.execPath, [script], {}, 'Building the server failed.');
  setStamp('server', stamp);
}

async function buildWebApp(tell) {
  const page = at('apps', 'web', 'index.html');
  if (!existsSync(page)) throw new NotReady(`${page} is missing: this clone is not whole.`);
  const sources = [at('apps', 'web'), ...ourPackages()];
  const stamp = digest([...sources.flatMap(filesIn), at('package-lock.json')]);
  if (existsSync(at('apps', 'web', 'dist', 'index.html')) && stampOf('web-app') === stamp) return;
  tell('Building the web app …');
  await run(
    process.execPath,
    [
      at('node_modules', 'vite', 'bin', 'vite.js'),
      'build',
      at('apps', 'web'),
      '--logLevel',
      'warn',
    ],
    { NODE_ENV: 'production' },
    'Building the web app failed.',
  );
  setStamp('web-app', stamp);
}

const ourPackages = () => readdirSync(at('packages')).map((name) => at('packages', name));

/** Every file that a build may read, tests and what builds make left out; in a fixed order. */
function filesIn(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      if (['node_modules', 'dist'].includes(entry.name) || /\.test\.tsx?$/.test(entry.name))
        return [];
      const path = join(folder, entry.name);
      return entry.isDirectory() ? filesIn(path) : [path];
    });
}

function digest(files) {
  const hash = createHash('sha256');
  for (const file of files)
    hash.update(file.slice(root.length)).update('\0').update(readFileSync(file));
  return hash.digest('hex');
}

const stampFile = (name) => at('.cache', `${name}.sha256`);
const stampOf = (name) =>
  existsSync(stampFile(name)) ? readFileSync(stampFile(name), 'utf8') : null;
function setStamp(name, stamp) {
  mkdirSync(dirname(stampFile(name)), { recursive: true });
  writeFileSync(stampFile(name), stamp);
}

function readJson(file) {
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null;
}

/** Its output is shown only when it fails: a newcomer should not have to read three tools' chatter. */
function run(program, args, env, failed) {
  return new Promise((done, broke) => {
    const child = spawn(program, args, {
      cwd: root,
      env: { ...process.env, ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let output = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8').on('data', (chunk) => {
        output += chunk;
      });
    }
    const pass = (signal) => child.kill(signal);
    process.once('SIGINT', pass).once('SIGTERM', pass);
    child.once('error', (error) => broke(new NotReady(`${failed} (${error.message})`)));
    child.once('close', (code) => {
      process.off('SIGINT', pass).off('SIGTERM', pass);
      if (code === 0) done();
      else broke(new NotReady(`${output}\n${failed}`));
    });
  });
}

/** `webApp: false` where no page is served; `tell` hears what takes a while. Throws `NotReady`. */
export async function prepare({
  webApp = true,
  tell = (sentence) => process.stdout.write(`${sentence}\n`),
} = {}) {
  checkNode();
  await install(tell);
  await generateClient(tell);
  await buildServer(tell);
  if (webApp) await buildWebApp(tell);
}

/** As `prepare`, for a command of its own: where it cannot be, it says why and ends the process. */
export async function makeReady(wish) {
  try {
    await prepare(wish);
  } catch (error) {
    if (!(error instanceof NotReady)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exit(1);
  }
}

/** Runs what the server was built into under this name; errors tell lines of the sources. */
export async function runBuilt(name) {
  process.setSourceMapsEnabled(true);
  await import(pathToFileURL(at('apps', 'server', 'dist', `${name}.js`)).href);
}

/** Node reads TypeScript from here on; what does it comes with the packages. */
export async function runTypeScript(file) {
  const { register } = await import('tsx/esm/api');
  register();
  await import(pathToFileURL(file).href);
}
