import type { Standing } from '../accounts/standing.ts';
import type { BoardRooms } from '../api/context.ts';
import { notFound } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import type { Prisma } from '../database.ts';
import { frozenFindingsSchema } from './change-line.ts';

interface Board {
  id: string;
  name: string;
}

/** Lets a finding stand, with a reason; it holds for as long as the finding has this id. */
export async function waive(
  { prisma, rooms }: { prisma: Prisma; rooms: Pick<BoardRooms, 'freeze'> },
  by: Standing,
  board: Board,
  { findingId, reason }: { findingId: string; reason: string },
): Promise<void> {
  const isKnown =
    (await hasRecord(prisma, board.id, findingId)) || (await stands(rooms, board.id, findingId));
  if (!isKnown) throw notFound('finding of this play');
  await prisma.$transaction(async (transaction) => {
    const key = { boardId: board.id, findingId };
    const waiver = { reason, memberId: by.memberId, name: by.name };
    await transaction.waiver.upsert({
      where: { boardId_findingId: key },
      create: { ...key, ...waiver },
      update: { ...waiver, at: new Date() },
    });
    await record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: `waived a finding on “${board.name}”: ${reason}`,
      detail: { finding: findingId, reason },
    });
  });
}

export async function takeBackWaiver(
  prisma: Prisma,
  by: Standing,
  board: Board,
  findingId: string,
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const gone = await transaction.waiver.deleteMany({ where: { boardId: board.id, findingId } });
    if (gone.count === 0) throw notFound('waiver');
    await record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: `took back a waiver on “${board.name}”`,
      detail: { finding: findingId },
    });
  });
}

/** It is in the board's history, or stood when the waiting change was sent. */
async function hasRecord(prisma: Prisma, boardId: string, findingId: string): Promise<boolean> {
  if (await prisma.findingRecord.findFirst({ where: { boardId, findingId } })) return true;
  const waiting = await prisma.installChange.findFirst({
    where: { boardId, state: 'sentUp' },
  });
  return frozenFindingsSchema.parse(waiting?.findings ?? []).some(({ id }) => id === findingId);
}

/** It stands this moment, and its history may not say so yet. */
async function stands(
  rooms: Pick<BoardRooms, 'freeze'>,
  boardId: string,
  findingId: string,
): Promise<boolean> {
  const { findings } = await rooms.freeze(boardId);
  return findings.some(({ finding }) => finding.id === findingId);
}
