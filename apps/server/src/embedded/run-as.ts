import { spawnSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { CannotStart } from '../cannot-start.ts';

/** The account a process runs as; null: the one we run as ourselves. */
export type RunAs = { uid: number; gid: number } | null;

const systemUser = 'stemline';

/**
 * PostgreSQL refuses to run as root. When we are root it runs as the owner of its data if there is
 * one already, else as the owner of the project's folder, else as a system user of its own.
 */
export function accountForPostgres(folders: readonly string[]): RunAs {
  if (process.getuid?.() !== 0) return null;
  for (const folder of folders) {
    const owner = statSync(folder, { throwIfNoEntry: false });
    // initdb asks the system for its user's name, so an owner without one cannot be used.
    if (owner && owner.uid !== 0 && accounts().some(({ uid }) => uid === owner.uid)) {
      return { uid: owner.uid, gid: owner.gid };
    }
  }
  return systemAccount() ?? madeSystemAccount();
}

function accounts(): { name: string; uid: number; gid: number }[] {
  return readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'))
    .filter((fields) => fields.length >= 4)
    .map(([name = '', , uid, gid]) => ({ name, uid: Number(uid), gid: Number(gid) }));
}

function systemAccount(): RunAs {
  const found = accounts().find(({ name }) => name === systemUser);
  return found ? { uid: found.uid, gid: found.gid } : null;
}

function madeSystemAccount(): RunAs {
  const made = spawnSync(
    '/usr/sbin/useradd',
    [
      '--system',
      '--user-group',
      '--no-create-home',
      '--home-dir',
      '/nonexistent',
      '--shell',
      '/usr/sbin/nologin',
      systemUser,
    ],
    { encoding: 'utf8' },
  );
  const account = systemAccount();
  if (account) return account;
  const why = made.error?.message ?? made.stderr.trim();
  throw new CannotStart(
    `PostgreSQL refuses to run as root and the system user "${systemUser}" could not be made (${why}): start Stemline as an ordinary user, or set DATABASE_URL.`,
  );
}

/** Whether that account can reach and run a program. */
export function canRun(program: string, runAs: RunAs): boolean {
  const tried = spawnSync(program, ['--version'], { ...runAs, cwd: '/', stdio: 'ignore' });
  return tried.status === 0;
}

/** Whether that account can walk into a folder (and so reach what it owns inside). */
export function canEnter(folder: string, runAs: RunAs): boolean {
  const tried = spawnSync('/bin/sh', ['-c', 'cd -- "$1"', 'sh', folder], {
    ...runAs,
    cwd: '/',
    stdio: 'ignore',
  });
  return tried.status === 0;
}
