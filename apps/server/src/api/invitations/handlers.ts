import {
  acceptInvitation,
  invite,
  openInvitation,
  stateOf,
  withdrawInvitation,
} from '../../accounts/invite.ts';
import type { Invitation } from '../../generated/prisma/client.ts';
import { api } from '../context.ts';
import * as contract from './contract.ts';

const line = (invitation: Invitation) => ({
  id: invitation.id,
  role: invitation.role,
  group: invitation.group,
  createdAt: invitation.createdAt.toISOString(),
  expiresAt: invitation.expiresAt.toISOString(),
  state: stateOf(invitation, new Date()),
  acceptedBy: invitation.acceptedBy,
});

export const invitations = api()
  .openapi(contract.list, async (c) => {
    const found = await c.var.deps.prisma.invitation.findMany({
      where: { staffId: c.var.standing.staffId },
      orderBy: { createdAt: 'desc' },
      take: 200,
    });
    return c.json(found.map(line), 200);
  })
  .openapi(contract.make, async (c) => {
    const offer = c.req.valid('json');
    const { invitation, token } = await invite(c.var.deps.prisma, c.var.standing, offer);
    // Our public address, or the one this request was sent to.
    const base = c.var.deps.publicUrl?.[0] ?? new URL(c.req.url).origin;
    return c.json({ ...line(invitation), link: `${base}/join/${token}` }, 201);
  })
  .openapi(contract.withdraw, async (c) => {
    await withdrawInvitation(c.var.deps.prisma, c.var.standing, c.req.valid('param').invitation);
    return c.body(null, 204);
  })
  .openapi(contract.preview, async (c) => {
    const { role, group, expiresAt, staff } = await openInvitation(
      c.var.deps.prisma,
      c.req.valid('param').token,
    );
    return c.json({ staffName: staff.name, role, group, expiresAt: expiresAt.toISOString() }, 200);
  })
  .openapi(contract.accept, async (c) => {
    const { user } = c.var.signedIn;
    const membership = await acceptInvitation(c.var.deps.prisma, user, c.req.valid('param').token);
    await c.var.deps.rooms.accessChanged({ userId: user.id });
    return c.json(membership, 200);
  });
