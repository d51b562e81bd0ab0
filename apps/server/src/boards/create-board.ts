import type { NoteNode } from '@stemline/board/board-play';
import { createBoardState } from '@stemline/board/create';
import { formations, playersOf } from '@stemline/football/formation';
import { formationName } from '@stemline/football/formation-name';
import type { newBoardSchema } from '@stemline/protocol/api/boards';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { z } from 'zod';
import type { Standing } from '../accounts/standing.ts';
import { mustFit } from '../api/full.ts';
import { ApiProblem } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import { lockStaff, type Prisma, type Transaction } from '../database.ts';

/** Where a new play is snapped until somebody says otherwise: first and ten, own 30. */
const firstSnap = { toGoal: 70, down: 1, toGain: 10 };

/** A board with a formation standing on it and nothing else; returns its id. */
export async function createBoard(
  prisma: Prisma,
  by: Standing,
  wish: z.output<typeof newBoardSchema>,
): Promise<string> {
  if (!formations.some(({ id }) => id === wish.formation)) {
    throw new ApiProblem('invalid', `There is no formation "${wish.formation}".`, {
      where: [
        { path: 'body.formation', message: `one of ${formations.map(({ id }) => id).join(', ')}` },
      ],
    });
  }
  const situation = { code: wish.code, spot: wish.spot, ...firstSnap };
  const play: RuledPlay = {
    name: wish.name,
    concept: wish.concept,
    situation,
    players: playersOf(wish.formation, { strength: wish.strength, situation }),
    routes: {},
    motions: {},
    cards: [],
  };
  return await prisma.$transaction(async (transaction) => {
    await roomForBoard(transaction, by.staffId);
    const id = await insertBoard(transaction, by, play, []);
    await record(transaction, {
      staffId: by.staffId,
      boardId: id,
      by,
      what: `drew up “${play.name}”`,
    });
    return id;
  });
}

/** Nobody else makes one of this staff until the transaction ends. */
export async function roomForBoard(transaction: Transaction, staffId: string): Promise<void> {
  await lockStaff(transaction, staffId);
  mustFit('boards', await transaction.board.count({ where: { staffId } }));
}

/** Writes a board's first state; only this and the demo make boards, so that none is made twice over. */
export async function insertBoard(
  transaction: Transaction,
  by: { memberId: string; staffId: string },
  play: RuledPlay,
  notes: readonly NoteNode[],
): Promise<string> {
  const board = await transaction.board.create({
    data: {
      staffId: by.staffId,
      name: play.name,
      concept: play.concept,
      formation: formationName(play),
      createdBy: by.memberId,
      updates: {
        create: { bytes: Uint8Array.from(createBoardState(play, notes)), memberId: by.memberId },
      },
    },
  });
  return board.id;
}
