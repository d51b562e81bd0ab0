import type { Standing } from '../accounts/standing.ts';
import { record } from '../audit/audit.ts';
import type { Prisma } from '../database.ts';

/** Takes a board out of the book, or back into it. Doing it twice is doing it once; says whether it did. */
export async function archiveBoard(
  prisma: Prisma,
  by: Standing,
  board: { id: string; name: string },
  archived: boolean,
): Promise<boolean> {
  return await prisma.$transaction(async (transaction) => {
    const changed = await transaction.board.updateMany({
      where: { id: board.id, archivedAt: archived ? null : { not: null } },
      data: { archivedAt: archived ? new Date() : null },
    });
    if (changed.count === 0) return false;
    await record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: `${archived ? 'archived' : 'restored'} “${board.name}”`,
    });
    return true;
  });
}
