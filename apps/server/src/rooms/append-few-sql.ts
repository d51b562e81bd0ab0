import { Buffer } from 'node:buffer';
import type { QueryConfig } from 'pg';
import { book, bookValues, utc } from './append-book-sql.ts';
import type { BoardAppend } from './store.ts';

/** So many updates, and elements set by them: a statement is planned for each number of both. */
const maxFew = 4;

/** Every list that PostgreSQL has to unfold costs about as much as the row that it holds: there is none here. */
function textOf(updates: number, authors: number): string {
  let next = 7;
  const row = (n: number, types: readonly string[]): string =>
    `(${[n, ...types.map((type) => `$${next++}::${type}`)].join(', ')})`;
  const rows = (count: number, types: readonly string[]): string =>
    Array.from({ length: count }, (_, n) => row(n, types)).join(', ');
  return `
  WITH ${book},
  updates AS (
    INSERT INTO "BoardUpdate" ("boardId", bytes, "memberId", at)
    SELECT book.id, u.bytes, u."memberId", u.at
    FROM book, (VALUES ${rows(updates, ['bytea', 'text', 'timestamp'])}) AS u(n, bytes, "memberId", at)
    ORDER BY u.n
    RETURNING id
  ),
  authors AS (
    INSERT INTO "ElementAuthor" ("boardId", element, "memberId", name, at)
    SELECT book.id, a.element, a."memberId", a.name, a.at
    FROM book, (VALUES ${rows(authors, ['text', 'text', 'text', 'timestamp'])})
      AS a(n, element, "memberId", name, at)
    ON CONFLICT ("boardId", element)
      DO UPDATE SET "memberId" = excluded."memberId", name = excluded.name, at = excluded.at
  )
  SELECT b.id AS "boardId", (SELECT revision FROM book), (SELECT max(id) FROM updates) AS last
  FROM "Board" b WHERE b.id = $1`;
}

const texts = Array.from({ length: maxFew }, (_, updates) =>
  Array.from({ length: maxFew }, (_, authors) => textOf(updates + 1, authors + 1)),
);

/**
 * A few updates of clients that are known, with some elements set and none gone: what nearly every commit is,
 * and for PostgreSQL a quarter less work than `appendOne`. Null: this append holds more.
 */
export function appendFew(append: BoardAppend): QueryConfig | null {
  const { updates, clients, authors } = append;
  const text = texts[updates.length - 1]?.[authors.size - 1];
  const set = [...authors].flatMap(([element, author]) => (author ? [{ element, ...author }] : []));
  const isMore = clients.size > 0 || set.length < authors.size;
  if (isMore || text === undefined || updates.some(({ rebased }) => rebased)) return null;
  return {
    name: `append ${updates.length} and ${set.length}`,
    text,
    values: [
      ...bookValues(append),
      ...updates.flatMap(({ bytes, memberId, at }) => [Buffer.from(bytes), memberId, utc(at)]),
      ...set.flatMap(({ element, memberId, name, at }) => [element, memberId, name, utc(at)]),
    ],
  };
}
