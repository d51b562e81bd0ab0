import { CannotStart } from '../cannot-start.ts';
import { startEmbeddedPostgres } from '../embedded/postgres.ts';
import { findRunningPostgres, holdsDatabase } from '../embedded/running.ts';
import type { Env } from '../env.ts';

type Where = Pick<Env, 'DATABASE_URL' | 'DATA_DIR'>;

/** Does something with the store of these settings, which a running Stemline may be using. */
export async function withStore<T>(
  { DATABASE_URL, DATA_DIR }: Where,
  use: (url: string) => Promise<T>,
): Promise<T> {
  if (DATABASE_URL === undefined && !holdsDatabase(DATA_DIR)) {
    throw new CannotStart(`There is no store in ${DATA_DIR}: set DATA_DIR or DATABASE_URL.`);
  }
  const url = DATABASE_URL ?? (await findRunningPostgres(DATA_DIR));
  return url === null ? await withStoreAlone({ DATABASE_URL, DATA_DIR }, use) : await use(url);
}

/** The same; an embedded store is started for it, which a running Stemline refuses. */
export async function withStoreAlone<T>(
  { DATABASE_URL, DATA_DIR }: Where,
  use: (url: string) => Promise<T>,
): Promise<T> {
  if (DATABASE_URL !== undefined) return await use(DATABASE_URL);
  const database = await startEmbeddedPostgres({ dataDir: DATA_DIR, say: () => undefined });
  try {
    return await use(database.url);
  } finally {
    await database.stop();
  }
}
