import type { Group, Role } from '@stemline/protocol/roles';
import { ApiProblem, notFound } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import type { Prisma, Transaction } from '../database.ts';
import { inWords, withdrawOutgrown } from './invite.ts';
import type { Standing } from './standing.ts';
import { stillMay } from './still-may.ts';

/** Gives a member another role or group. A staff never loses its last head coach, however many act at once. */
export async function changeMember(
  prisma: Prisma,
  by: Standing,
  memberId: string,
  change: { role: Role; group: Group },
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const member = await memberToChange(transaction, by, memberId, change.role === 'headCoach');
    await transaction.member.update({ where: { id: memberId }, data: change });
    await record(transaction, {
      staffId: by.staffId,
      by,
      what: `made ${member.user.name} ${inWords(change)}`,
      detail: { member: memberId, from: member.role, ...change },
    });
    await withdrawOutgrown(transaction, by, memberId, change.role);
  });
}

/** What he did keeps his name; he may be invited again. */
export async function removeMember(prisma: Prisma, by: Standing, memberId: string): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const member = await memberToChange(transaction, by, memberId, false);
    await transaction.member.update({ where: { id: memberId }, data: { removedAt: new Date() } });
    await transaction.letIn.deleteMany({ where: { memberId } });
    await record(transaction, {
      staffId: by.staffId,
      by,
      what: `removed ${member.user.name} from the staff`,
      detail: { member: memberId },
    });
    await withdrawOutgrown(transaction, by, memberId, null);
  });
}

async function memberToChange(
  transaction: Transaction,
  by: Standing,
  memberId: string,
  staysHeadCoach: boolean,
) {
  await stillMay(transaction, by, 'member.change');
  const member = await transaction.member.findFirst({
    where: { id: memberId, staffId: by.staffId, removedAt: null },
    include: { user: { select: { name: true } } },
  });
  if (!member) throw notFound('member');
  if (member.role === 'headCoach' && !staysHeadCoach) {
    const others = await transaction.member.count({
      where: { staffId: by.staffId, role: 'headCoach', removedAt: null, id: { not: memberId } },
    });
    if (others === 0)
      throw new ApiProblem(
        'lastHeadCoach',
        `${member.user.name} is the only head coach of this staff.`,
      );
  }
  return member;
}
