import { Buffer } from 'node:buffer';
import type { QueryConfig } from 'pg';
import type { BoardAppend } from './store.ts';
import { storedText } from './stored-text.ts';

function payloadOf(boards: readonly BoardAppend[]): string {
  const updates = boards.flatMap(({ boardId, updates }) =>
    updates.map(({ bytes, memberId, at, rebased }) => ({
      boardId,
      bytes: Buffer.from(bytes).toString('base64'),
      ...(rebased ? { rebased: Buffer.from(rebased).toString('base64') } : {}),
      memberId,
      at: at.toISOString(),
    })),
  );
  const clients = boards.flatMap(({ boardId, clients }) =>
    [...clients].map(([clientId, memberId]) => ({ boardId, clientId, memberId })),
  );
  const authors = boards.flatMap(({ boardId, authors }) =>
    [...authors].map(([element, author]) => ({
      boardId,
      element,
      memberId: author?.memberId ?? null,
      name: author?.name ?? null,
      at: author?.at.toISOString() ?? null,
      gone: author === null,
    })),
  );
  const lines = boards.map(({ boardId, base, line, updates }) => ({
    boardId,
    base,
    name: storedText(line.name),
    concept: storedText(line.concept),
    formation: storedText(line.formation),
    at: (updates.at(-1)?.at ?? new Date()).toISOString(),
  }));
  return JSON.stringify({ updates: updates.map((u, n) => ({ n, ...u })), clients, authors, lines });
}

/**
 * `$1`: what `payloadOf` makes; each list is taken straight from it, for a row that is locked carries along
 * the whole of every row it was joined with. Locks are taken in the order of the boards, so that two servers
 * cannot wait for each other.
 */
const text = `
  WITH here AS (
    SELECT b.id, l.name, l.concept, l.formation, l.at
    FROM jsonb_to_recordset($1::jsonb -> 'lines')
      AS l("boardId" text, base int, name text, concept text, formation text, at timestamptz)
    JOIN "Board" b ON b.id = l."boardId" AND b.revision = l.base
    ORDER BY b.id
    FOR NO KEY UPDATE OF b
  ),
  updates AS (
    INSERT INTO "BoardUpdate" ("boardId", bytes, rebased, "memberId", at)
    SELECT u."boardId", decode(u.bytes, 'base64'), decode(u.rebased, 'base64'), u."memberId",
      u.at AT TIME ZONE 'UTC'
    FROM jsonb_to_recordset($1::jsonb -> 'updates')
      AS u(n int, "boardId" text, bytes text, rebased text, "memberId" text, at timestamptz)
    JOIN here ON here.id = u."boardId"
    ORDER BY u.n
    RETURNING id, "boardId"
  ),
  clients AS (
    INSERT INTO "BoardClient" ("boardId", "clientId", "memberId")
    SELECT c."boardId", c."clientId", c."memberId"
    FROM jsonb_to_recordset($1::jsonb -> 'clients')
      AS c("boardId" text, "clientId" bigint, "memberId" text)
    JOIN here ON here.id = c."boardId"
    ON CONFLICT DO NOTHING
  ),
  authors AS (
    INSERT INTO "ElementAuthor" ("boardId", element, "memberId", name, at)
    SELECT a."boardId", a.element, a."memberId", a.name, a.at AT TIME ZONE 'UTC'
    FROM jsonb_to_recordset($1::jsonb -> 'authors')
      AS a("boardId" text, element text, "memberId" text, name text, at timestamptz, gone boolean)
    JOIN here ON here.id = a."boardId"
    WHERE NOT a.gone
    ON CONFLICT ("boardId", element)
      DO UPDATE SET "memberId" = excluded."memberId", name = excluded.name, at = excluded.at
  ),
  gone AS (
    DELETE FROM "ElementAuthor" e
    USING jsonb_to_recordset($1::jsonb -> 'authors') AS a("boardId" text, element text, gone boolean),
      here
    WHERE a.gone AND here.id = a."boardId" AND e."boardId" = a."boardId" AND e.element = a.element
  ),
  book AS (
    UPDATE "Board" b
    SET name = here.name, concept = here.concept, formation = here.formation,
        "updatedAt" = here.at AT TIME ZONE 'UTC', revision = b.revision + 1
    FROM here WHERE b.id = here.id
    RETURNING b.id, b.revision
  )
  SELECT b.id AS "boardId", book.revision, max(updates.id) AS last
  FROM jsonb_to_recordset($1::jsonb -> 'lines') AS l("boardId" text)
  JOIN "Board" b ON b.id = l."boardId"
  LEFT JOIN book ON book.id = b.id
  LEFT JOIN updates ON updates."boardId" = b.id
  GROUP BY b.id, book.revision`;

/** Many boards in one statement; its rows: append-sql.ts. */
export const appendMany = (boards: readonly BoardAppend[]): QueryConfig => ({
  name: 'append many',
  text,
  values: [payloadOf(boards)],
});
