import { builtInLooks } from '@stemline/football/shelf';
import { mustFit } from '../api/full.ts';
import { record } from '../audit/audit.ts';
import { type Prisma, type Transaction, toJson } from '../database.ts';

/** Whether somebody may be head coach of one more; nobody makes him another until the transaction ends. */
export async function roomForStaff(transaction: Transaction, userId: string): Promise<void> {
  await transaction.$queryRaw`SELECT 1 FROM "user" WHERE id = ${userId} FOR NO KEY UPDATE`;
  const heads = { userId, role: 'headCoach', removedAt: null } as const;
  mustFit('staffs', await transaction.member.count({ where: heads }));
}

/** A new staff with its founder as head coach and the built-in looks on its shelf. */
export async function foundStaff(prisma: Prisma, user: { id: string; name: string }, name: string) {
  return await prisma.$transaction(async (transaction) => {
    await roomForStaff(transaction, user.id);
    const staff = await transaction.staff.create({ data: { name } });
    const member = await transaction.member.create({
      data: { staffId: staff.id, userId: user.id, role: 'headCoach', group: 'all' },
    });
    await transaction.look.createMany({
      data: builtInLooks.map((recipe, order) => ({
        staffId: staff.id,
        name: recipe.name,
        recipe: toJson(recipe),
        order,
        createdBy: member.id,
      })),
    });
    await record(transaction, {
      staffId: staff.id,
      by: { userId: user.id, name: user.name },
      what: 'founded the staff',
    });
    return {
      memberId: member.id,
      staffId: staff.id,
      staffName: staff.name,
      role: member.role,
      group: member.group,
    };
  });
}
