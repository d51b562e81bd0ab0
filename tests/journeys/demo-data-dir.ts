import { execFileSync } from 'node:child_process';
import { inject } from 'vitest';
import { newDataDir } from './stemline.ts';

/** A store of one's own with the demo in it. */
export function demoDataDir(): string {
  const dataDir = newDataDir();
  // PostgreSQL's files belong to the account that it runs as, which Node's own copying would not keep.
  execFileSync('cp', ['-Rp', `${inject('demoDataDir')}/.`, dataDir]);
  return dataDir;
}
