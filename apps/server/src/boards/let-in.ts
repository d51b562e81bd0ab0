import { editScope } from '@stemline/protocol/scope';
import type { Standing } from '../accounts/standing.ts';
import { notFound } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import type { Prisma } from '../database.ts';
import type { Member } from '../generated/prisma/client.ts';

/** Whether letting him in to a board gives a member anything that his role does not. */
const gainsByIt = ({ role, group }: Pick<Member, 'role' | 'group'>): boolean =>
  editScope({ role, group, letIn: true }).kind !== editScope({ role, group, letIn: false }).kind;

/** Every member whom it would give something, and whether he is let in. */
export async function letInList(prisma: Prisma, board: { id: string; staffId: string }) {
  const members = await prisma.member.findMany({
    where: { staffId: board.staffId, removedAt: null },
    include: { user: { select: { name: true } }, letIn: { where: { boardId: board.id } } },
    orderBy: { createdAt: 'asc' },
  });
  return members
    .filter(gainsByIt)
    .map(({ id, user, letIn }) => ({ memberId: id, name: user.name, letIn: letIn.length > 0 }));
}

export async function letIn(
  prisma: Prisma,
  by: Standing,
  board: { id: string; name: string },
  wish: { memberId: string; letIn: boolean },
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const member = await transaction.member.findFirst({
      where: { id: wish.memberId, staffId: by.staffId, removedAt: null },
      include: { user: { select: { name: true } } },
    });
    if (!member) throw notFound('member');
    const where = { boardId: board.id, memberId: member.id };
    if (wish.letIn) {
      await transaction.letIn.upsert({
        where: { boardId_memberId: where },
        create: { ...where, by: by.memberId },
        update: {},
      });
    } else {
      await transaction.letIn.deleteMany({ where });
    }
    await record(transaction, {
      staffId: by.staffId,
      boardId: board.id,
      by,
      what: wish.letIn
        ? `let ${member.user.name} in to “${board.name}”`
        : `closed “${board.name}” to ${member.user.name}`,
      detail: { member: member.id },
    });
  });
}
