import { Buffer } from 'node:buffer';
import type { QueryConfig } from 'pg';
import type { BoardAppend } from './store.ts';
import { storedText } from './stored-text.ts';

/** Whoever raises the revision holds the lock of the row; all else is written from the row that it raised. */
const text = `
  WITH book AS (
    UPDATE "Board"
    SET name = $3, concept = $4, formation = $5, "updatedAt" = $6, revision = revision + 1
    WHERE id = $1 AND revision = $2
    RETURNING id, revision
  ),
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
export function appendOne({
  boardId,
  base,
  updates,
  clients,
  authors,
  line,
}: BoardAppend): QueryConfig {
  const set = [...authors].flatMap(([element, author]) => (author ? [{ element, ...author }] : []));
  return {
    name: 'append one',
    text,
    values: [
      boardId,
      base,
      storedText(line.name),
      storedText(line.concept),
      storedText(line.formation),
      utc(updates.at(-1)?.at ?? new Date()),
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

/** A column without a zone leaves the Z unread. */
const utc = (at: Date): string => at.toISOString();
