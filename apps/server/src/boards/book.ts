import { setImmediate } from 'node:timers/promises';
import { boardPlaySchema } from '@stemline/board/board-play';
import { formationName } from '@stemline/football/formation-name';
import type { BoardLine } from '@stemline/protocol/api/boards';
import type { Prisma } from '../database.ts';

interface Wish {
  search?: string | undefined;
  archived: 'yes' | 'no';
}

/** The lines of a staff's book for those who work on it. */
export async function workingBook(
  prisma: Prisma,
  staffId: string,
  wish: Wish,
): Promise<BoardLine[]> {
  const contains = wish.search
    ? { contains: literally(wish.search), mode: 'insensitive' as const }
    : null;
  const boards = await prisma.board.findMany({
    where: {
      staffId,
      archivedAt: wish.archived === 'yes' ? { not: null } : null,
      ...(contains
        ? { OR: [{ name: contains }, { concept: contains }, { formation: contains }] }
        : {}),
    },
    include: {
      versions: { orderBy: { number: 'desc' }, take: 1, select: { number: true } },
      changes: { where: { state: 'sentUp' }, take: 1, select: { id: true } },
      findings: { where: { closedAt: null }, select: { findingId: true, severity: true } },
      waivers: { select: { findingId: true } },
      _count: { select: { threads: { where: { resolvedAt: null } } } },
    },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return boards.map((board) => {
    const waived = new Set(board.waivers.map(({ findingId }) => findingId));
    const open = board.findings.filter(({ findingId }) => !waived.has(findingId));
    const count = (severity: string): number =>
      open.filter((finding) => finding.severity === severity).length;
    return {
      id: board.id,
      name: board.name,
      concept: board.concept,
      formation: board.formation,
      updatedAt: board.updatedAt.toISOString(),
      archivedAt: board.archivedAt?.toISOString() ?? null,
      signedVersion: board.versions[0]?.number ?? null,
      sentUp: board.changes.length > 0,
      openFindings: { stop: count('stop'), warn: count('warn'), note: count('note') },
      openComments: board._count.threads,
    };
  });
}

/**
 * The book as players have it: plays with a signed-off version, each as it was signed off. Nothing of
 * the working boards shows, their names included, and nothing of what is archived.
 */
export async function signedBook(
  prisma: Prisma,
  staffId: string,
  wish: Wish,
): Promise<BoardLine[]> {
  if (wish.archived === 'yes') return [];
  const sought = wish.search?.toLowerCase() ?? '';
  const lines: BoardLine[] = [];
  for (const signed of await signedPlays(prisma, staffId)) {
    // A full play takes a while to read, and a book may have hundreds.
    await setImmediate();
    const play = boardPlaySchema.shape.play.parse(signed.play);
    lines.push({
      id: signed.boardId,
      name: play.name,
      concept: play.concept,
      formation: formationName(play),
      updatedAt: signed.signedAt.toISOString(),
      archivedAt: null,
      signedVersion: signed.number,
      sentUp: false,
      openFindings: null,
      openComments: null,
    });
  }
  return lines
    .filter((line) =>
      [line.name, line.concept, line.formation].some((text) => text.toLowerCase().includes(sought)),
    )
    .sort((a, b) => a.name.localeCompare(b.name, 'en') || a.id.localeCompare(b.id, 'en'));
}

interface SignedPlay {
  boardId: string;
  number: number;
  signedAt: Date;
  play: unknown;
}

/** The newest version of every play in the book, without its notes: they are most of it. */
const signedPlays = (prisma: Prisma, staffId: string): Promise<SignedPlay[]> =>
  prisma.$queryRaw`
    SELECT DISTINCT ON (v."boardId") v."boardId", v.number, v."signedAt", v.play -> 'play' AS play
    FROM "Version" v JOIN "Board" b ON b.id = v."boardId"
    WHERE b."staffId" = ${staffId} AND b."archivedAt" IS NULL
    ORDER BY v."boardId", v.number DESC`;

/** LIKE's own signs, taken as they are written. */
const literally = (search: string): string => search.replace(/[\\%_]/g, '\\$&');
