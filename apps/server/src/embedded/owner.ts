import { existsSync } from 'node:fs';
import { chown, mkdir, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** As root: what we make in somebody's folder is his, so that he can start Stemline himself next time. */
export async function giveToOwnerOf(folder: string, path: string): Promise<void> {
  if (process.getuid?.() !== 0) return;
  const { uid, gid } = await stat(folder);
  await chown(path, uid, gid);
}

/** Makes a folder, and those above it that are missing, as the owner of the first one that is there. */
export async function makeFolder(folder: string): Promise<void> {
  if (existsSync(folder)) return;
  await makeFolder(dirname(folder));
  await mkdir(folder, { recursive: true });
  await giveToOwnerOf(dirname(folder), folder);
}
