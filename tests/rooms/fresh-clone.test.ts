import { execFile, execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { appendFile, copyFile, mkdir, mkdtemp, readFile, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { projectRoot } from '../../apps/server/src/env.ts';

// Every command of package.json makes ready what it needs: a clone with its packages, never started.

let clone: string;
const inClone = (...parts: string[]): string => join(clone, ...parts);

beforeAll(async () => {
  clone = await mkdtemp(join(tmpdir(), 'stemline-clone-'));
  const listed = execFileSync(
    'git',
    ['ls-files', '-z', '--cached', '--others', '--exclude-standard'],
    {
      cwd: projectRoot,
      encoding: 'utf8',
    },
  );
  for (const file of listed.split('\0')) {
    if (file === '' || !existsSync(join(projectRoot, file))) continue;
    await mkdir(dirname(inClone(file)), { recursive: true });
    await copyFile(join(projectRoot, file), inClone(file));
  }
  for (const folder of ['.', 'apps/server', 'apps/web']) {
    const packages = join(projectRoot, folder, 'node_modules');
    if (existsSync(packages)) await symlink(packages, inClone(folder, 'node_modules'));
  }
}, 60_000);
afterAll(() => rm(clone, { recursive: true, force: true }));

interface Ran {
  code: number;
  out: string;
  err: string;
}

/** As from a terminal in the clone. */
const npmRun = (...words: string[]): Promise<Ran> =>
  new Promise((done) => {
    execFile(
      'npm',
      ['run', '--silent', ...words],
      {
        cwd: clone,
        env: {
          ...process.env,
          DATA_DIR: inClone('.data'),
          DATABASE_URL: '',
          REDIS_URL: '',
          NODE_ENV: '',
        },
        maxBuffer: 2 ** 26,
        timeout: 120_000,
      },
      (error, out, err) => done({ code: error ? Number(error.code ?? -1) : 0, out, err }),
    );
  });

/** As it was cloned. */
async function neverStarted(): Promise<void> {
  for (const made of ['.cache', '.data', 'apps/server/src/generated', 'apps/server/dist'])
    await rm(inClone(made), { recursive: true, force: true });
}

it.each<[string, string[], number, (ran: Ran) => void]>([
  ['bench', ['rooms', '--json', 'no part'], 0, ({ out }) => expect(JSON.parse(out)).toEqual([])],
  [
    'check',
    ['tests/published/plays/lantern-clash.json'],
    1,
    ({ out }) => expect(JSON.parse(out)).toContainEqual(expect.objectContaining({ kind: 'clash' })),
  ],
  ['restore', ['a.gz'], 1, ({ err }) => expect(err).toMatch(/a\.gz/)],
])(
  'npm run %s',
  async (name, words, exits, said) => {
    await neverStarted();
    const ran = await npmRun(name, '--', ...words);
    expect(ran.err).not.toMatch(/Cannot find module|ERR_MODULE/);
    expect(ran.code, ran.err).toBe(exits);
    said(ran);
    expect(existsSync(inClone('apps/web/dist')), 'it serves no page').toBe(false);
  },
  150_000,
);

it('runs what its sources are now, not what they were', async () => {
  const play = 'tests/published/plays/lantern.json';
  expect(await npmRun('check', '--', play)).toMatchObject({ code: 0 });
  await appendFile(inClone('apps/server/src/cli/check.ts'), "process.stderr.write('changed');\n");
  const { err } = await npmRun('check', '--', play);
  expect(err).toMatch(/changed$/);
}, 150_000);

it('no command runs TypeScript without', async () => {
  const { scripts } = JSON.parse(await readFile(join(projectRoot, 'package.json'), 'utf8')) as {
    scripts: Record<string, string>;
  };
  const typeScript = Object.values(scripts).filter((script) => script.includes('.ts'));
  expect(typeScript.length).toBeGreaterThan(4);
  for (const script of typeScript)
    expect(script).toMatch(/^exec node apps\/server\/run\.mjs \S+\.ts$/);
});
