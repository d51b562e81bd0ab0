import type { Prisma } from '../database.ts';
import { appendFew } from './append-few-sql.ts';
import { appendMany } from './append-many-sql.ts';
import { appendOne } from './append-one-sql.ts';
import type { Appended, BoardAppend } from './store.ts';

/** A board that still exists. */
interface Row {
  boardId: string;
  /** A bigint, in digits; null: it is past its base. */
  last: string | null;
  revision: number | null;
}

/**
 * Writes what boards gathered in one statement: one round trip, one commit. Updates get their ids in the
 * order given. A board is written only while its revision is the base (R100): whoever holds the lock of
 * its row raises the revision, whoever waited for it finds another one and is `stale`. Ids are drawn
 * under that lock, so that the ids of one board follow its commits and "later than the last one seen"
 * misses none. Boards that no longer exist are left out: a deleted one cannot fail the rest.
 *
 * The statements are named, so that a connection plans each once: planning costs twice what it does.
 */
export async function appendAll(
  database: Prisma,
  boards: readonly BoardAppend[],
): Promise<ReadonlyMap<string, Appended>> {
  const [only, ...others] = boards;
  if (!only) return new Map();
  const statement = others.length === 0 ? (appendFew(only) ?? appendOne(only)) : appendMany(boards);
  const { rows } = await database.commits.query<Row>(statement);
  return new Map(
    rows.map(({ boardId, last, revision }) => [
      boardId,
      last === null || revision === null ? 'stale' : { last: BigInt(last), revision },
    ]),
  );
}
