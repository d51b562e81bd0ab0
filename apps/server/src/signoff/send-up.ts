import { boardPlaySchema } from '@stemline/board/board-play';
import { contentHash } from '@stemline/board/canonical';
import { describeChanges } from '@stemline/board/diff';
import type { Standing } from '../accounts/standing.ts';
import type { BoardRooms } from '../api/context.ts';
import type { BoardHere } from '../api/needs.ts';
import { ApiProblem } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import { lockBoard, type Prisma, toJson } from '../database.ts';
import type { FrozenFinding } from './change-line.ts';

/** Puts a board up for sign-off exactly as it is durable now; returns the change's id. */
export async function sendUp(
  { prisma, rooms }: { prisma: Prisma; rooms: Pick<BoardRooms, 'freeze'> },
  by: Standing,
  board: BoardHere,
  message: string,
): Promise<string> {
  if (board.archivedAt) throw new ApiProblem('archived', `“${board.name}” is in the archive.`);
  const sentAt = new Date();
  const { content, findings } = await rooms.freeze(board.id);
  const hash = contentHash(content);
  const kept = findings.map(
    ({ finding }): FrozenFinding => ({
      id: finding.id,
      severity: finding.severity,
      says: finding.says,
    }),
  );
  return await prisma.$transaction(async (transaction) => {
    await lockBoard(transaction, board.id);
    const waiting = await transaction.installChange.findFirst({
      where: { boardId: board.id, state: 'sentUp' },
    });
    if (waiting) {
      throw new ApiProblem(
        'alreadySentUp',
        `${waiting.sentByName} has sent “${board.name}” up already, and it waits.`,
      );
    }
    const last = await transaction.version.findFirst({
      where: { boardId: board.id },
      orderBy: { number: 'desc' },
    });
    if (last?.hash === hash) {
      throw new ApiProblem(
        'nothingChanged',
        `The board says exactly what version ${last.number} says.`,
      );
    }
    const before = last ? boardPlaySchema.parse(last.play) : null;
    const change = await transaction.installChange.create({
      data: {
        boardId: board.id,
        play: toJson(content),
        hash,
        words: describeChanges(before, content),
        findings: kept,
        message,
        sentBy: by.memberId,
        sentByName: by.name,
        sentAt,
      },
    });
    await record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: `sent “${content.play.name}” up for sign-off`,
      detail: { change: change.id, hash },
    });
    return change.id;
  });
}
