import { restoreTo } from '@stemline/board/restore';
import type { Standing } from '../accounts/standing.ts';
import type { BoardRooms } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import type { Prisma } from '../database.ts';
import { boardAt } from './past.ts';

/** Before this time there was no such board. */
export const notThereYet = (board: { createdAt: Date }): ApiProblem =>
  new ApiProblem('notFound', `The board was made on ${board.createdAt.toISOString()}.`, {
    mend: 'Ask for a later time.',
  });

/**
 * Makes a board say again what it said at a time: one new edit of this member's through the room. What
 * was done since stays in the history.
 */
export async function restoreBoard(
  deps: { prisma: Prisma; rooms: BoardRooms },
  by: Standing,
  board: { id: string; name: string; createdAt: Date; archivedAt: Date | null },
  time: Date,
): Promise<Date> {
  if (board.archivedAt) throw new ApiProblem('archived', `“${board.name}” is archived.`);
  const past = await boardAt(deps.prisma, board.id, time);
  if (!past) throw notThereYet(board);
  try {
    const outcome = await deps.rooms.edit(
      board.id,
      { memberId: by.memberId, name: by.name, scope: { kind: 'all' } },
      (ydoc) => restoreTo(ydoc, past.ydoc),
    );
    switch (outcome.kind) {
      case 'nothing':
        throw new ApiProblem('nothingChanged', 'The board says now what it said then.', {
          mend: 'Choose another time.',
        });
      case 'refused':
        throw new ApiProblem('conflict', `The room did not take it: ${outcome.why}.`, {
          mend: outcome.mend,
        });
      case 'storeAway':
        throw new ApiProblem('notReady', 'The store cannot be reached, and edits wait for it.');
      case 'made':
    }
  } finally {
    past.ydoc.destroy();
  }
  await deps.prisma.$transaction((transaction) =>
    record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: `restored “${board.name}” to how it was`,
      detail: { time: past.time.toISOString() },
    }),
  );
  return past.time;
}
