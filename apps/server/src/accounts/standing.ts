import type { Group, Role } from '@stemline/protocol/roles';
import type { Prisma } from '../database.ts';

/** Who somebody is on one staff, as read from the store for this request. */
export interface Standing {
  memberId: string;
  userId: string;
  staffId: string;
  name: string;
  role: Role;
  group: Group;
}

/** Null: not on this staff (any more), or no such staff; the two look alike from outside. */
export async function standingOn(
  prisma: Prisma,
  user: { id: string; name: string },
  staffId: string,
): Promise<Standing | null> {
  const member = await prisma.member.findUnique({
    where: { staffId_userId: { staffId, userId: user.id } },
  });
  if (!member || member.removedAt) return null;
  return {
    memberId: member.id,
    userId: user.id,
    staffId,
    name: user.name,
    role: member.role,
    group: member.group,
  };
}
