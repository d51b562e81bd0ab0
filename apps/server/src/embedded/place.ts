import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { chmod, chown, cp, mkdir, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { projectRoot } from '../env.ts';
import { postgresFolder } from './binaries.ts';
import { accountForPostgres, canEnter, canRun, type RunAs } from './run-as.ts';
import { readOrMakeSecret } from './secret.ts';

/** Where PostgreSQL's programs and its data lie, and the account that runs it. */
export interface Place {
  programs: string;
  /** Belongs to the account; holds the cluster and passing files. */
  folder: string;
  cluster: string;
  runAs: RunAs;
}

/**
 * The place inside `dataDir`; or, when we are root and its account cannot get there (a project below
 * /root, say), a folder of the system's where it can. `say` then tells the operator where.
 */
export async function findPlace(dataDir: string, say: (sentence: string) => void): Promise<Place> {
  const inside = join(dataDir, 'postgres');
  const packaged = await postgresFolder();
  const runAs = accountForPostgres([inside, dataDir, projectRoot]);
  // Its files are for their owners only; the folder itself may be walked through.
  if (runAs) await chmod(dataDir, (await stat(dataDir)).mode | 0o011);
  if (
    runAs === null ||
    (canEnter(dataDir, runAs) && canRun(join(packaged, 'bin', 'postgres'), runAs))
  ) {
    return settle(packaged, inside, runAs);
  }
  // Named by a secret of the data folder: a data folder made anew starts with a database made anew.
  const name = (await readOrMakeSecret(dataDir, 'postgres-elsewhere')).slice(0, 16);
  const outside = join('/var/lib/stemline', name);
  say(
    `${dataDir} can be entered by root only, and PostgreSQL does not run as root: its data is kept in ${outside}.`,
  );
  await mkdir(outside, { recursive: true, mode: 0o755 });
  return settle(await copied(packaged, outside), join(outside, 'postgres'), runAs);
}

async function settle(programs: string, folder: string, runAs: RunAs): Promise<Place> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  if (runAs) await chown(folder, runAs.uid, runAs.gid);
  return { programs, folder, cluster: join(folder, 'cluster'), runAs };
}

/** The programs, copied where the account can run them; named by version so that an update is copied anew. */
async function copied(programs: string, outside: string): Promise<string> {
  const version = createHash('sha256').update(programs);
  for (const name of (await readdir(join(programs, 'lib'))).sort()) version.update(name);
  const to = join(outside, `programs-${version.digest('hex').slice(0, 12)}`);
  if (existsSync(to)) return to;
  const half = `${to}.half`;
  await rm(half, { recursive: true, force: true });
  await cp(programs, half, { recursive: true, verbatimSymlinks: true });
  await rename(half, to);
  return to;
}
