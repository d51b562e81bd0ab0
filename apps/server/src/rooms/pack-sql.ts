import type { Prisma } from '../database.ts';
import type { BoardPacking, StoredUpdate, StoredWhole } from './store.ts';

/** Everything of one moment: the newest snapshot with nothing packed away, and what is later than it. */
export async function readWhole(database: Prisma, boardId: string): Promise<StoredWhole | null> {
  const rows = await database.$queryRaw<
    {
      revision: number;
      upTo: bigint | null;
      snapshot: Uint8Array | null;
      id: bigint | null;
      bytes: Uint8Array | null;
      rebased: Uint8Array | null;
    }[]
  >`
    WITH base AS (
      SELECT id, "upTo" FROM "BoardSnapshot"
      WHERE "boardId" = ${boardId} AND packed IS NULL ORDER BY "upTo" DESC, id DESC LIMIT 1
    ),
    log AS (
      SELECT b.revision, NULL::bigint AS "upTo", NULL::bigint AS "snapshotId", u.id, u.bytes, u.rebased
      FROM "Board" b JOIN "BoardUpdate" u ON u."boardId" = b.id
        AND (u.id > COALESCE((SELECT "upTo" FROM base), 0) OR u.rebased IS NOT NULL)
      WHERE b.id = ${boardId}
      UNION ALL
      SELECT b.revision, base."upTo", base.id, NULL, NULL, NULL
      FROM "Board" b LEFT JOIN base ON true WHERE b.id = ${boardId}
    )
    SELECT log.revision, log."upTo", s.bytes AS snapshot, log.id, log.bytes, log.rebased
    FROM log LEFT JOIN "BoardSnapshot" s ON s.id = log."snapshotId" ORDER BY log.id NULLS FIRST`;
  const [head, ...log] = rows;
  if (!head) return null;
  const { upTo, snapshot } = head;
  return {
    revision: head.revision,
    snapshot: upTo === null || snapshot === null ? null : { id: upTo, bytes: snapshot },
    updates: log.flatMap(({ id, bytes }): StoredUpdate[] =>
      id === null || bytes === null || id <= (upTo ?? 0n) ? [] : [{ id, bytes }],
    ),
    rebased: log.flatMap(({ rebased }) => rebased ?? []),
  };
}

/**
 * Puts a packed snapshot in front, and under it the same board whole, in one commit that any append to
 * the board excludes: it raises the revision, so that a room which still stands on the board as it was
 * writes nothing more to it.
 */
export async function packStored(
  database: Prisma,
  { boardId, base, upTo, whole, packed, stateVector }: BoardPacking,
): Promise<boolean> {
  const written = await database.$executeRaw`
    WITH here AS (
      UPDATE "Board" SET revision = revision + 1, packings = packings + 1
      WHERE id = ${boardId} AND revision = ${base} RETURNING id
    )
    INSERT INTO "BoardSnapshot" ("boardId", "upTo", bytes, packed)
    SELECT here.id, ${upTo}, s.bytes, s.packed
    FROM here, (VALUES (1, ${whole}::bytea, NULL::bytea), (2, ${packed}::bytea, ${stateVector}::bytea))
      AS s(n, bytes, packed)
    ORDER BY s.n`;
  return written > 0;
}
