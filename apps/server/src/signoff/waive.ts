import type { Standing } from '../accounts/standing.ts';
import { notFound } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import type { Prisma, Transaction } from '../database.ts';
import { frozenFindingsSchema } from './change-line.ts';

interface Board {
  id: string;
  name: string;
}

/** Lets a finding stand, with a reason; it holds for as long as the finding has this id. */
export async function waive(
  prisma: Prisma,
  by: Standing,
  board: Board,
  { findingId, reason }: { findingId: string; reason: string },
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    if (!(await hasFinding(transaction, board.id, findingId)))
      throw notFound('finding of this play');
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

/** It stands or has stood on the board, or stood when the waiting change was sent. */
async function hasFinding(
  transaction: Transaction,
  boardId: string,
  findingId: string,
): Promise<boolean> {
  if (await transaction.findingRecord.findFirst({ where: { boardId, findingId } })) return true;
  const waiting = await transaction.installChange.findFirst({
    where: { boardId, state: 'sentUp' },
  });
  return frozenFindingsSchema.parse(waiting?.findings ?? []).some(({ id }) => id === findingId);
}
