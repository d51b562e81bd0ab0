import type { Sitting } from '@stemline/protocol/api/history';
import { maxSittingsListed, sittingPauseMinutes } from '@stemline/protocol/history';
import type { Prisma } from '../database.ts';

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
