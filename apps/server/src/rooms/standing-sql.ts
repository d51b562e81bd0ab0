import { type Group, groupSchema, type Role, roleSchema } from '@stemline/protocol/roles';
import type { Prisma } from '../database.ts';

/** Where one person stands on a board, as long as this session of his runs. */
export interface Asked {
  boardId: string;
  userId: string;
  sessionId: string;
}

/** What decides on a board: whose it is, its state, and where one person stands. */
export interface Standing {
  staffId: string;
  archivedAt: Date | null;
  /** Null: he is not on the staff. */
  member: { id: string; role: Role; group: Group } | null;
  letIn: boolean;
  /** Null: it was ended. `ends`: when it runs out by itself, milliseconds of the clock. */
  session: { ends: number; userName: string } | null;
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
  ends: number | null;
  userName: string;
}

/** What Postgres answers is a text of its own for every row; of these words one is enough for all. */
const roles = new Map<string, Role>(roleSchema.options.map((role) => [role, role]));
const groups = new Map<string, Group>(groupSchema.options.map((group) => [group, group]));

/** In the order asked; null: there is no such board. One question: everybody asks when a server comes back. */
export async function standingsOf(
  database: Prisma,
  asked: readonly Asked[],
): Promise<readonly (Standing | null)[]> {
  const values = [
    asked.map(({ boardId }) => boardId),
    asked.map(({ userId }) => userId),
    asked.map(({ sessionId }) => sessionId),
  ];
  const { rows } = await database.pool.query<Row>({ name: 'standings', text: standings, values });
  const found = new Map(rows.map((row) => [Number(row.n), row]));
  return asked.map((_, at) => {
    const row = found.get(at + 1);
    if (!row) return null;
    const { staffId, archivedAt, id, letIn, ends, userName } = row;
    const role = roles.get(row.role) ?? row.role;
    const group = groups.get(row.group) ?? row.group;
    return {
      staffId,
      archivedAt,
      member: id === null ? null : { id, role, group },
      letIn,
      session: ends === null ? null : { ends, userName },
    };
  });
}

const standings = `
  SELECT asked.n, b."staffId", b."archivedAt", m.id, m.role, m."group",
    EXISTS (SELECT 1 FROM "LetIn" l WHERE l."boardId" = b.id AND l."memberId" = m.id) AS "letIn",
    (extract(epoch FROM s."expiresAt") * 1000)::float8 AS ends, u.name AS "userName"
  FROM unnest($1::text[], $2::text[], $3::text[]) WITH ORDINALITY AS asked("boardId", "userId", "sessionId", n)
  JOIN "Board" b ON b.id = asked."boardId"
  LEFT JOIN "session" s ON s.id = asked."sessionId" AND s."userId" = asked."userId"
  LEFT JOIN "user" u ON u.id = s."userId"
  LEFT JOIN "Member" m
    ON m."staffId" = b."staffId" AND m."userId" = asked."userId" AND m."removedAt" IS NULL`;
