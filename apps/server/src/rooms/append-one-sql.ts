import { Buffer } from 'node:buffer';
import type { QueryConfig } from 'pg';
import { book, bookValues, utc } from './append-book-sql.ts';
import type { BoardAppend } from './store.ts';

const text = `
  WITH ${book},
  updates AS (
    INSERT INTO "BoardUpdate" ("boardId", bytes, rebased, "memberId", at)
    SELECT book.id, u.bytes, u.rebased, u."memberId", u.at
    FROM book, unnest($7::bytea[], $8::bytea[], $9::text[], $10::timestamp[])
      WITH ORDINALITY AS u(bytes, rebased, "memberId", at, n)
    ORDER BY u.n
    RETURNING id
  ),
  clients AS (
    INSERT INTO "BoardClient" ("boardId", "clientId", "memberId")
    SELECT book.id, c."clientId", c."memberId"
    FROM book, unnest($11::bigint[], $12::text[]) AS c("clientId", "memberId")
    ON CONFLICT DO NOTHING
  ),
  authors AS (
    INSERT INTO "ElementAuthor" ("boardId", element, "memberId", name, at)
    SELECT book.id, a.element, a."memberId", a.name, a.at
    FROM book, unnest($13::text[], $14::text[], $15::text[], $16::timestamp[])
      AS a(element, "memberId", name, at)
    ON CONFLICT ("boardId", element)
      DO UPDATE SET "memberId" = excluded."memberId", name = excluded.name, at = excluded.at
  ),
  gone AS (
    DELETE FROM "ElementAuthor" e
    USING book
    WHERE e."boardId" = book.id AND e.element = ANY($17::text[])
  )
  SELECT b.id AS "boardId", (SELECT revision FROM book), (SELECT max(id) FROM updates) AS last
  FROM "Board" b WHERE b.id = $1`;

/** One board, which costs less than it does among many; its rows: append-sql.ts. */
export function appendOne(append: BoardAppend): QueryConfig {
  const { updates, clients, authors } = append;
  const set = [...authors].flatMap(([element, author]) => (author ? [{ element, ...author }] : []));
  return {
    name: 'append one',
    text,
    values: [
      ...bookValues(append),
      updates.map(({ bytes }) => Buffer.from(bytes)),
      updates.map(({ rebased }) => rebased && Buffer.from(rebased)),
      updates.map(({ memberId }) => memberId),
      updates.map(({ at }) => utc(at)),
      [...clients.keys()],
      [...clients.values()],
      set.map(({ element }) => element),
      set.map(({ memberId }) => memberId),
      set.map(({ name }) => name),
      set.map(({ at }) => utc(at)),
      [...authors].flatMap(([element, author]) => (author ? [] : [element])),
    ],
  };
}
