import { boardPlaySchema } from '@stemline/board/board-play';
import type { decisionSchema } from '@stemline/protocol/api/signoff';
import type { z } from 'zod';
import type { Standing } from '../accounts/standing.ts';
import { ApiProblem } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import { lockBoard, type Prisma, type Transaction, toJson } from '../database.ts';
import type { InstallChange } from '../generated/prisma/client.ts';
import { frozenFindingsSchema } from './change-line.ts';

/**
 * Signs a change off or sends it back. A board's decisions are taken one after another: of two that
 * come at once one is taken, and makes at most one version.
 */
export async function decide(
  prisma: Prisma,
  by: Standing,
  boardId: string,
  changeId: string,
  { decision, reply }: z.output<typeof decisionSchema>,
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const change = await waitingChange(transaction, boardId, changeId);
    const { play } = boardPlaySchema.parse(change.play);
    let what = `sent “${play.name}” back`;
    if (decision === 'signOff') {
      await refuseUnwaivedStops(transaction, change);
      what = `signed off version ${await makeVersion(transaction, by, change)} of “${play.name}”`;
    }
    await close(
      transaction,
      changeId,
      decision === 'signOff' ? 'signedOff' : 'sentBack',
      by,
      reply,
    );
    await record(transaction, {
      staffId: by.staffId,
      boardId,
      by,
      what,
      detail: { change: changeId },
    });
  });
}

/** Takes back what one sent up oneself, while it waits. */
export async function withdraw(
  prisma: Prisma,
  by: Standing,
  boardId: string,
  changeId: string,
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const change = await waitingChange(transaction, boardId, changeId);
    if (change.sentBy !== by.memberId) {
      throw new ApiProblem(
        'notAllowed',
        `${change.sentByName} sent it up, and only he can withdraw it.`,
        {
          mend: `Ask ${change.sentByName}, or have it sent back.`,
        },
      );
    }
    await close(transaction, changeId, 'withdrawn', by, '');
    const { play } = boardPlaySchema.parse(change.play);
    await record(transaction, {
      staffId: by.staffId,
      boardId,
      by,
      what: `withdrew “${play.name}” from sign-off`,
      detail: { change: changeId },
    });
  });
}

async function waitingChange(
  transaction: Transaction,
  boardId: string,
  changeId: string,
): Promise<InstallChange> {
  await lockBoard(transaction, boardId);
  const change = await transaction.installChange.findUniqueOrThrow({ where: { id: changeId } });
  if (change.state === 'sentUp') return change;
  const how = { signedOff: 'signed off', sentBack: 'sent back', withdrawn: 'withdrawn' }[
    change.state
  ];
  throw new ApiProblem(
    'alreadyDecided',
    `It was ${how} by ${change.decidedByName ?? 'somebody else'} already.`,
  );
}

async function refuseUnwaivedStops(transaction: Transaction, change: InstallChange): Promise<void> {
  const waivers = await transaction.waiver.findMany({
    where: { boardId: change.boardId },
    select: { findingId: true },
  });
  const waived = new Set(waivers.map(({ findingId }) => findingId));
  const open = frozenFindingsSchema
    .parse(change.findings)
    .filter(({ id, severity }) => severity === 'stop' && !waived.has(id));
  if (open.length === 0) return;
  throw new ApiProblem(
    'blocked',
    open.length === 1
      ? 'One finding of the highest severity is open.'
      : `${open.length} findings of the highest severity are open.`,
    { where: open.map(({ id, says }) => ({ path: id, message: says })) },
  );
}

async function makeVersion(
  transaction: Transaction,
  by: Standing,
  change: InstallChange,
): Promise<number> {
  const last = await transaction.version.aggregate({
    where: { boardId: change.boardId },
    _max: { number: true },
  });
  const version = await transaction.version.create({
    data: {
      boardId: change.boardId,
      number: (last._max.number ?? 0) + 1,
      play: toJson(change.play),
      hash: change.hash,
      author: change.sentByName,
      signer: by.name,
      changeId: change.id,
    },
  });
  return version.number;
}

async function close(
  transaction: Transaction,
  id: string,
  state: 'signedOff' | 'sentBack' | 'withdrawn',
  by: Standing,
  reply: string,
): Promise<void> {
  await transaction.installChange.update({
    where: { id },
    data: { state, decidedBy: by.memberId, decidedByName: by.name, decidedAt: new Date(), reply },
  });
}
