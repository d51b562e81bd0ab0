import { builtInLooks } from '@stemline/football/shelf';
import { record } from '../audit/audit.ts';
import { type Prisma, toJson } from '../database.ts';

/** A new staff with its founder as head coach and the built-in looks on its shelf. */
export async function foundStaff(prisma: Prisma, user: { id: string; name: string }, name: string) {
  return await prisma.$transaction(async (transaction) => {
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
