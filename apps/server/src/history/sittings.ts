import type { BoardPlay } from '@stemline/board/board-play';
import { describeChanges } from '@stemline/board/diff';
import { project } from '@stemline/board/project';
import type { PastBoard, Sitting } from '@stemline/protocol/api/history';
import { maxSittingsListed, sittingPauseMinutes } from '@stemline/protocol/history';
import type { Prisma } from '../database.ts';
import { boardAt } from './past.ts';

interface Row {
  from: Date;
  to: Date;
  members: (string | null)[];
}

/** When a board was edited and by whom, newest sitting first. */
export async function sittingsOf(database: Prisma, boardId: string): Promise<Sitting[]> {
  const rows = await database.$queryRaw<Row[]>`
    WITH edits AS (
      SELECT id, at, "memberId",
             at - lag(at) OVER (ORDER BY id) > make_interval(mins => ${sittingPauseMinutes}) AS begins
      FROM "BoardUpdate" WHERE "boardId" = ${boardId}
    ), sittings AS (
      SELECT at, "memberId", count(*) FILTER (WHERE begins) OVER (ORDER BY id) AS n FROM edits
    )
    SELECT min(at) AS from, max(at) AS to, array_agg(DISTINCT "memberId") AS members
    FROM sittings GROUP BY n ORDER BY n DESC LIMIT ${maxSittingsListed}`;
  const ids = [...new Set(rows.flatMap(({ members }) => members))].filter((id) => id !== null);
  const members = await database.member.findMany({
    where: { id: { in: ids } },
    select: { id: true, user: { select: { name: true } } },
  });
  const nameOf = new Map(members.map(({ id, user }) => [id, user.name]));
  return rows.map(({ from, to, members }) => ({
    from: from.toISOString(),
    to: to.toISOString(),
    names: members.flatMap((id) => (id === null ? [] : (nameOf.get(id) ?? []))).sort(),
  }));
}

/**
 * Who edited in the sitting that a board of this time stands in, and what that had changed by then; of the
 * first one, since the board was made. Null for one too far back to be listed.
 */
export async function toldSitting(
  database: Prisma,
  boardId: string,
  time: Date,
  content: BoardPlay,
): Promise<PastBoard['sitting']> {
  const told = time.toISOString();
  const sittings = await sittingsOf(database, boardId);
  const sitting = sittings.find(({ from, to }) => from <= told && told <= to);
  if (!sitting) return null;
  const from = new Date(sitting.from);
  const before =
    (await boardAt(database, boardId, new Date(from.getTime() - 1))) ??
    (await boardAt(database, boardId, from));
  const did = before ? describeChanges(project(before.ydoc).board, content) : [];
  before?.ydoc.destroy();
  return { names: sitting.names, did };
}
