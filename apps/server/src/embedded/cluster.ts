import { spawn } from 'node:child_process';
import { chown, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CannotStart } from '../cannot-start.ts';
import type { Place } from './place.ts';

/** Who owns the cluster and everything in it. */
export const clusterUser = 'stemline';

/** Nothing of our own environment (PGDATA, locale) may reach the database. */
export const plainEnv = { PATH: process.env.PATH ?? '/usr/bin:/bin', LC_ALL: 'C' };

/** Made under another name and renamed when whole, so that a half-made cluster is never taken for one. */
export async function makeCluster(place: Place, password: string): Promise<void> {
  const half = `${place.cluster}.half`;
  const passwordFile = join(place.folder, 'password.once');
  await rm(half, { recursive: true, force: true });
  await writeFile(passwordFile, `${password}\n`, { mode: 0o600 });
  if (place.runAs) await chown(passwordFile, place.runAs.uid, place.runAs.gid);
  try {
    await run(place, 'initdb', [
      `--pgdata=${half}`,
      `--username=${clusterUser}`,
      `--pwfile=${passwordFile}`,
      '--auth=scram-sha-256',
      '--encoding=UTF8',
      '--locale=C',
      '--locale-provider=builtin',
      '--builtin-locale=C.UTF-8',
    ]);
  } finally {
    await rm(passwordFile, { force: true });
  }
  await rename(half, place.cluster);
}

/** A cluster is of one major version of PostgreSQL; another's programs must not touch it. */
export async function refuseOtherMajor(place: Place): Promise<void> {
  const has = (await readFile(join(place.cluster, 'PG_VERSION'), 'utf8')).trim();
  const brings = /\(PostgreSQL\) (\d+)/.exec(await run(place, 'postgres', ['--version']))?.[1];
  if (has !== brings) {
    throw new CannotStart(
      `The data in ${place.cluster} is PostgreSQL ${has}'s and this build brings ${brings}: dump it with the earlier build and load it into a fresh DATA_DIR.`,
    );
  }
}

async function run(place: Place, program: string, args: string[]): Promise<string> {
  const child = spawn(join(place.programs, 'bin', program), args, {
    ...place.runAs,
    cwd: place.folder,
    env: plainEnv,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  let errors = '';
  child.stdout.setEncoding('utf8').on('data', (chunk) => {
    out += chunk;
  });
  child.stderr.setEncoding('utf8').on('data', (chunk) => {
    errors += chunk;
  });
  const code = await new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  if (code !== 0)
    throw new CannotStart(
      `The embedded database's ${program} failed: ${errors.trim().split('\n').at(-1)}`,
    );
  return out;
}
