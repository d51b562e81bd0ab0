import { contentHash } from '@stemline/board/canonical';
import type { Change } from '@stemline/protocol/api/signoff';
import { severitySchema } from '@stemline/read-rules/finding';
import { z } from 'zod';
import type { BoardRooms } from '../api/context.ts';
import type { Prisma } from '../database.ts';
import type { Prisma as Generated } from '../generated/prisma/client.ts';

/** What is kept of a finding that stood when a board was sent up. */
const frozenFindingSchema = z.object({
  id: z.string(),
  severity: severitySchema,
  says: z.string(),
});
export type FrozenFinding = z.infer<typeof frozenFindingSchema>;
export const frozenFindingsSchema = z.array(frozenFindingSchema);

const include = {
  board: {
    select: {
      name: true,
      updatedAt: true,
      waivers: { select: { findingId: true } },
      _count: { select: { threads: { where: { resolvedAt: null } } } },
    },
  },
  version: { select: { number: true } },
} satisfies Generated.InstallChangeInclude;
/** A play may be a megabyte, and a list has two hundred. */
const omit = { play: true } satisfies Generated.InstallChangeOmit;
type Row = Generated.InstallChangeGetPayload<{ include: typeof include; omit: typeof omit }>;

/** Changes as the API tells them, newest first. */
export async function changeLines(
  { prisma, rooms }: { prisma: Prisma; rooms: Pick<BoardRooms, 'freeze'> },
  where: Generated.InstallChangeWhereInput,
): Promise<Change[]> {
  const rows = await prisma.installChange.findMany({
    where,
    include,
    omit,
    orderBy: [{ sentAt: 'desc' }, { id: 'desc' }],
    take: 200,
  });
  const nameOf = await namesOf(prisma, rows);
  return await Promise.all(
    rows.map(async (row) => line(row, nameOf.get(row.id) ?? '', await hasMovedOn(row, rooms))),
  );
}

/** What each play was called when it was sent up, by the change's id. */
async function namesOf(prisma: Prisma, rows: readonly Row[]): Promise<Map<string, string>> {
  const ids = rows.map(({ id }) => id);
  const found = await prisma.$queryRaw<{ id: string; name: string }[]>`
    SELECT id, play #>> '{play,name}' AS name FROM "InstallChange" WHERE id = ANY(${ids})`;
  return new Map(found.map(({ id, name }) => [id, name]));
}

/**
 * `sentAt` was taken before the board was frozen, so a board untouched since then has not moved on;
 * one that was touched is asked what it says now.
 */
async function hasMovedOn(row: Row, rooms: Pick<BoardRooms, 'freeze'>): Promise<boolean> {
  if (row.state !== 'sentUp' || row.board.updatedAt <= row.sentAt) return false;
  const { content } = await rooms.freeze(row.boardId);
  return contentHash(content) !== row.hash;
}

function line(row: Row, boardName: string, boardMovedOn: boolean): Change {
  const waived = new Set(row.board.waivers.map(({ findingId }) => findingId));
  return {
    id: row.id,
    boardId: row.boardId,
    boardName,
    state: row.state,
    message: row.message,
    words: z.array(z.string()).parse(row.words),
    findings: frozenFindingsSchema
      .parse(row.findings)
      .map((finding) => ({ ...finding, waived: waived.has(finding.id) })),
    sentBy: row.sentByName,
    sentByMemberId: row.sentBy,
    sentAt: row.sentAt.toISOString(),
    decidedBy: row.decidedByName,
    decidedAt: row.decidedAt?.toISOString() ?? null,
    reply: row.reply,
    version: row.version?.number ?? null,
    boardMovedOn,
    openComments: row.board._count.threads,
  };
}
