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
  const boards = await prisma.board.findMany({
    where: { staffId, archivedAt: null, versions: { some: {} } },
    include: { versions: { orderBy: { number: 'desc' }, take: 1 } },
  });
  const sought = wish.search?.toLowerCase() ?? '';
  return boards
    .flatMap((board) => board.versions.map((version) => ({ board, version })))
    .map(({ board, version }): BoardLine => {
      const { play } = boardPlaySchema.parse(version.play);
      return {
        id: board.id,
        name: play.name,
        concept: play.concept,
        formation: formationName(play),
        updatedAt: version.signedAt.toISOString(),
        archivedAt: null,
        signedVersion: version.number,
        sentUp: false,
        openFindings: null,
        openComments: null,
      };
    })
    .filter((line) =>
      [line.name, line.concept, line.formation].some((text) => text.toLowerCase().includes(sought)),
    )
    .sort((a, b) => a.name.localeCompare(b.name, 'en') || a.id.localeCompare(b.id, 'en'));
}

/** LIKE's own signs, taken as they are written. */
const literally = (search: string): string => search.replace(/[\\%_]/g, '\\$&');
