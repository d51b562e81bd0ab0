import type { Group, Role } from '@stemline/protocol/roles';
import type { Prisma } from '../database.ts';

/** What decides on a board: whose it is, its state, and where one person stands. */
export interface Standing {
  staffId: string;
  archivedAt: Date | null;
  /** Null: he is not on the staff. */
  member: { id: string; role: Role; group: Group } | null;
  letIn: boolean;
}

interface Row {
  /** Of what was asked, from 1. */
  n: string;
  staffId: string;
  archivedAt: Date | null;
  id: string | null;
  role: Role;
  group: Group;
  letIn: boolean;
}

/** In the order asked; null: there is no such board. One question: everybody asks when a server comes back. */
export async function standingsOf(
  database: Prisma,
  asked: readonly { boardId: string; userId: string }[],
): Promise<readonly (Standing | null)[]> {
  const values = [asked.map(({ boardId }) => boardId), asked.map(({ userId }) => userId)];
  const { rows } = await database.pool.query<Row>({ name: 'standings', text: standings, values });
  const found = new Map(rows.map((row) => [Number(row.n), row]));
  return asked.map((_, at) => {
    const row = found.get(at + 1);
    if (!row) return null;
    const { staffId, archivedAt, id, role, group, letIn } = row;
    return { staffId, archivedAt, member: id === null ? null : { id, role, group }, letIn };
  });
}

const standings = `
  SELECT asked.n, b."staffId", b."archivedAt", m.id, m.role, m."group",
    EXISTS (SELECT 1 FROM "LetIn" l WHERE l."boardId" = b.id AND l."memberId" = m.id) AS "letIn"
  FROM unnest($1::text[], $2::text[]) WITH ORDINALITY AS asked("boardId", "userId", n)
  JOIN "Board" b ON b.id = asked."boardId"
  LEFT JOIN "Member" m
    ON m."staffId" = b."staffId" AND m."userId" = asked."userId" AND m."removedAt" IS NULL`;
