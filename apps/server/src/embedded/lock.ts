import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { realpath, rm } from 'node:fs/promises';
import { connect, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { CannotStart } from '../cannot-start.ts';

const isLinux = process.platform === 'linux';

/** Held while an app works on a data folder; gone with its process, however that ends. */
export interface DataLock {
  release(): Promise<void>;
}

/** How long an app that is just ending may take to let go. Milliseconds. */
const patience = 4000;

/**
 * Takes the folder for this process, or throws `CannotStart` naming the process that has it.
 *
 * The lock is a listening socket named by the folder: the system hands the name to one process only
 * and takes it back even after kill -9, so it is never stale (Linux has such names outside the file
 * system). Whoever connects is told the holder's process id.
 */
export async function lockData(dataDir: string): Promise<DataLock> {
  const id = createHash('sha256')
    .update(await realpath(dataDir))
    .digest('hex')
    .slice(0, 24);
  const path = isLinux ? `\0stemline-${id}` : join(tmpdir(), `stemline-${id}.sock`);
  const deadline = Date.now() + patience;
  for (;;) {
    const server = createServer((socket) => {
      socket.on('error', () => socket.destroy());
      socket.end(String(process.pid));
    });
    try {
      server.listen({ path });
      await once(server, 'listening');
      server.unref();
      return { release: () => new Promise((resolve) => server.close(() => resolve())) };
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw cause;
      const holder = await askHolder(path);
      if (holder === null && !isLinux) await rm(path, { force: true });
      if (Date.now() > deadline) {
        throw new CannotStart(
          `Stemline already runs on the data in ${dataDir} (process ${holder ?? 'unknown'}): stop that one first, or set DATA_DIR to another folder.`,
          { cause },
        );
      }
      await pause(100);
    }
  }
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
