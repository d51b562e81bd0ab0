import { randomBytes } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { giveToOwnerOf, makeFolder } from './owner.ts';

/** A secret of 32 random bytes kept in a file that only its owner reads; made the first time. */
export async function readOrMakeSecret(dataDir: string, name: string): Promise<string> {
  const file = join(dataDir, name);
  try {
    return (await readFile(file, 'utf8')).trim();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  // With a database of one's own nothing else has made the folder.
  await makeFolder(dataDir);
  const secret = randomBytes(32).toString('base64url');
  await writeFile(file, `${secret}\n`, { mode: 0o600, flag: 'wx' });
  await giveToOwnerOf(dataDir, file);
  return secret;
}
