import { type ElementKey, parseElementKey } from '@stemline/board/element-key';
import type { Prisma } from '../database.ts';
import type { Author, StoredBoard, StoredUpdate } from './store.ts';

interface Row {
  staffId: string;
  revision: number;
  packings: number;
  name: string;
  concept: string;
  formation: string;
  createdBy: string;
  createdAt: Date;
  maker: string | null;
  clients: readonly [number, string][] | null;
  /** `at` without a zone, in UTC. */
  authors: readonly { element: string; memberId: string | null; name: string; at: string }[] | null;
  upTo: bigint | null;
  snapshot: Uint8Array | null;
  packed: Uint8Array | null;
  id: bigint | null;
  bytes: Uint8Array | null;
}

/**
 * Everything that a room begins with, in one question and of one moment: a board may be packed between
 * two. The first row is the board, each further one an update later than its snapshot.
 */
export async function readBoard(database: Prisma, boardId: string): Promise<StoredBoard | null> {
  const [board, ...log] = await database.$queryRaw<Row[]>`
    WITH board AS (
      SELECT b."staffId", b.revision, b.packings, b.name, b.concept, b.formation, b."createdBy",
        b."createdAt",
        (SELECT u.name FROM "Member" m JOIN "user" u ON u.id = m."userId" WHERE m.id = b."createdBy")
          AS maker,
        (SELECT json_agg(json_build_array("clientId", "memberId")) FROM "BoardClient"
          WHERE "boardId" = b.id AND "memberId" IS NOT NULL) AS clients,
        (SELECT json_agg(json_build_object(
            'element', element, 'memberId', "memberId", 'name', name, 'at', at))
          FROM "ElementAuthor" WHERE "boardId" = b.id) AS authors,
        s."upTo", s.bytes AS snapshot, s.packed
      FROM "Board" b LEFT JOIN LATERAL (
        SELECT "upTo", bytes, packed FROM "BoardSnapshot"
        WHERE "boardId" = b.id ORDER BY "upTo" DESC, id DESC LIMIT 1
      ) s ON true
      WHERE b.id = ${boardId}
    )
    SELECT board.*, NULL::bigint AS id, NULL::bytea AS bytes FROM board
    UNION ALL
    SELECT NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, u.id, u.bytes
    FROM board JOIN "BoardUpdate" u
      ON u."boardId" = ${boardId} AND u.id > COALESCE(board."upTo", 0)
    ORDER BY id NULLS FIRST`;
  if (!board) return null;
  const { staffId, revision, packings, name, concept, formation, createdBy, createdAt } = board;
  const { upTo, snapshot, packed } = board;
  return {
    staffId,
    revision,
    packings,
    maker: { memberId: createdBy, name: board.maker ?? createdBy, at: createdAt },
    line: { name, concept, formation },
    snapshot: upTo === null || snapshot === null ? null : { id: upTo, bytes: snapshot, packed },
    updates: log.flatMap(({ id, bytes }): StoredUpdate[] =>
      id === null || bytes === null ? [] : [{ id, bytes }],
    ),
    clients: new Map(board.clients),
    authors: new Map(
      (board.authors ?? []).flatMap(({ element, memberId, name, at }): [ElementKey, Author][] =>
        parseElementKey(element)
          ? [[element as ElementKey, { memberId, name, at: new Date(`${at}Z`) }]]
          : [],
      ),
    ),
  };
}
