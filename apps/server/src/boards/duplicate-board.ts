import type { BoardPlay } from '@stemline/board/board-play';
import type { Standing } from '../accounts/standing.ts';
import { record } from '../audit/audit.ts';
import type { Prisma } from '../database.ts';
import { insertBoard, roomForBoard } from './create-board.ts';

/**
 * A board of its own that says what another says now, under a new name; returns its id. It starts a
 * history of its own: no edit of the one can ever reach the other.
 */
export async function duplicateBoard(
  prisma: Prisma,
  by: Standing,
  from: { id: string; name: string; content: BoardPlay },
  name: string,
): Promise<string> {
  return await prisma.$transaction(async (transaction) => {
    await roomForBoard(transaction, by.staffId);
    const id = await insertBoard(
      transaction,
      by,
      { ...from.content.play, name },
      from.content.notes,
    );
    await record(transaction, {
      staffId: by.staffId,
      boardId: id,
      by,
      what: `duplicated “${from.name}” as “${name}”`,
      detail: { from: from.id },
    });
    return id;
  });
}
