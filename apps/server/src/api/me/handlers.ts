import { api } from '../context.ts';
import * as contract from './contract.ts';

export const me = api().openapi(contract.me, async (c) => {
  const { user } = c.var.signedIn;
  const memberships = await c.var.deps.prisma.member.findMany({
    where: { userId: user.id, removedAt: null },
    include: { staff: { select: { name: true } } },
    orderBy: { createdAt: 'asc' },
  });
  return c.json(
    {
      user,
      memberships: memberships.map(({ id, staffId, staff, role, group }) => ({
        memberId: id,
        staffId,
        staffName: staff.name,
        role,
        group,
      })),
    },
    200,
  );
});
