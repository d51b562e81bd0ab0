import { BoardDocument } from '@stemline/board/document';
import { vi } from 'vitest';
import * as Y from 'yjs';
import type { TestApp } from './app.ts';

/**
 * Edits a working board as a member does who works alone: the change is appended to the board's log.
 * Waits until no room holds the board: nobody would tell it before its own next edit.
 */
export async function editBoard(
  { prisma, rooms }: TestApp,
  boardId: string,
  edit: (board: BoardDocument) => void,
): Promise<void> {
  await vi.waitFor(() => {
    if (rooms.stats().rooms > 0) throw new Error('a room is still open');
  });
  const ydoc = new Y.Doc();
  const log = await prisma.boardUpdate.findMany({ where: { boardId }, orderBy: { id: 'asc' } });
  for (const { bytes } of log) Y.applyUpdate(ydoc, bytes);
  const before = Y.encodeStateVector(ydoc);
  const board = new BoardDocument(ydoc);
  edit(board);
  const { play } = board.snapshot().board;
  await prisma.$transaction([
    prisma.boardUpdate.create({
      data: { boardId, bytes: Uint8Array.from(Y.encodeStateAsUpdate(ydoc, before)) },
    }),
    prisma.board.update({
      where: { id: boardId },
      data: {
        name: play.name,
        concept: play.concept,
        updatedAt: new Date(),
        revision: { increment: 1 },
      },
    }),
  ]);
}
