import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { realpath, rm } from 'node:fs/promises';
import { connect, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CannotStart } from '../cannot-start.ts';

/** Held while an app works on a data folder; gone with its process, however that ends. */
export interface DataLock {
  release(): Promise<void>;
}

/**
 * Takes the folder for this process, or throws `CannotStart` naming the process that has it.
 *
 * The lock is a listening socket named by the folder: the system hands the name to one process only
 * and takes it back even after kill -9, so it is never stale (Linux has such names outside the file
 * system). Whoever connects is told the holder's process id.
 */
export async function lockData(dataDir: string): Promise<DataLock> {
  const name = `stemline-${createHash('sha256')
    .update(await realpath(dataDir))
    .digest('hex')
    .slice(0, 24)}`;
  const path = process.platform === 'linux' ? `\0${name}` : join(tmpdir(), `${name}.sock`);
  const server = createServer((socket) => {
    socket.on('error', () => socket.destroy());
    socket.end(String(process.pid));
  });
  server.unref();
  for (const attempt of [1, 2]) {
    server.listen({ path });
    try {
      await once(server, 'listening');
      return {
        release: () => new Promise((resolve) => server.close(() => resolve())),
      };
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw cause;
      const holder = await askHolder(path);
      if (holder === null && attempt === 1) {
        if (process.platform !== 'linux') await rm(path, { force: true });
        continue;
      }
      throw new CannotStart(
        `Stemline already runs on the data in ${dataDir}${holder ? ` (process ${holder})` : ''}: stop that one first, or set DATA_DIR to another folder.`,
        { cause },
      );
    }
  }
  throw new Error('unreachable: both attempts return or throw');
}

/** The process id of whoever listens there; null when nobody does. */
async function askHolder(path: string): Promise<string | null> {
  const socket = connect({ path });
  let said = '';
  socket.setEncoding('utf8').on('data', (chunk) => {
    said += chunk;
  });
  try {
    await once(socket, 'close');
    return said;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ECONNREFUSED' || code === 'ENOENT') return null;
    throw error;
  }
}
