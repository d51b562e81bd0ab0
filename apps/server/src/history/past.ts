import { migrate } from '@stemline/board/migrations';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import type { Prisma, Transaction } from '../database.ts';

/** A board as it was. The document is the caller's: to be read and destroyed. */
export interface Past {
  /** When the last edit that is in it was made. */
  time: Date;
  ydoc: Y.Doc;
}

/**
 * The board with every edit made by `time` (null: with every one that is durable), at this build's
 * document version; null when it was not there yet. Read from the log beside the room, which may go on meanwhile.
 */
export async function boardAt(
  database: Prisma,
  boardId: string,
  time: Date | null,
): Promise<Past | null> {
  // One view of the log: it may be thinned between two questions.
  return await database.$transaction((transaction) => boardIn(transaction, boardId, time), {
    isolationLevel: 'RepeatableRead',
  });
}

/** The same within a transaction that sees one moment of the store. */
export async function boardIn(
  database: Transaction,
  boardId: string,
  time: Date | null,
): Promise<Past | null> {
  const last = await database.boardUpdate.findFirst({
    where: { boardId, ...(time ? { at: { lte: time } } : {}) },
    orderBy: { id: 'desc' },
    select: { id: true, at: true },
  });
  if (!last) return null;
  const snapshot = await database.boardSnapshot.findFirst({
    // Of a packed one, later rows that were thinned since could not be read.
    where: { boardId, upTo: { lte: last.id }, packed: null },
    orderBy: { upTo: 'desc' },
  });
  const updates = await database.boardUpdate.findMany({
    where: { boardId, id: { lte: last.id, ...(snapshot ? { gt: snapshot.upTo } : {}) } },
    orderBy: { id: 'asc' },
    select: { bytes: true },
  });
  const ydoc = newDocument();
  ydoc.transact(() => {
    if (snapshot) Y.applyUpdate(ydoc, snapshot.bytes);
    for (const { bytes } of updates) Y.applyUpdate(ydoc, bytes);
  });
  const opened = migrate(ydoc);
  if (!opened.ok) {
    ydoc.destroy();
    throw new Error(`board ${boardId} cannot be read as it was at ${last.at.toISOString()}`);
  }
  return { time: last.at, ydoc };
}
