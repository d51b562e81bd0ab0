import { changeMember, removeMember } from '../../accounts/member-change.ts';
import { api } from '../context.ts';
import * as contract from './contract.ts';

export const members = api()
  .openapi(contract.list, async (c) => {
    const found = await c.var.deps.prisma.member.findMany({
      where: { staffId: c.var.standing.staffId, removedAt: null },
      include: { user: { select: { name: true, email: true } } },
      orderBy: { createdAt: 'asc' },
    });
    return c.json(
      found.map(({ id, user, role, group, createdAt }) => ({
        id,
        ...user,
        role,
        group,
        since: createdAt.toISOString(),
      })),
      200,
    );
  })
  .openapi(contract.change, async (c) => {
    const { member: memberId } = c.req.valid('param');
    await changeMember(c.var.deps.prisma, c.var.standing, memberId, c.req.valid('json'));
    await c.var.deps.rooms.accessChanged({ memberId });
    return c.body(null, 204);
  })
  .openapi(contract.remove, async (c) => {
    const { member: memberId } = c.req.valid('param');
    await removeMember(c.var.deps.prisma, c.var.standing, memberId);
    await c.var.deps.rooms.accessChanged({ memberId });
    return c.body(null, 204);
  });
