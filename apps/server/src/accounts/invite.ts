import { type Action, may } from '@stemline/protocol/permissions';
import type { Group, Role } from '@stemline/protocol/roles';
import { groupNames, roleNames } from '@stemline/protocol/roles';
import { mustFit } from '../api/full.ts';
import { ApiProblem, notFound } from '../api/problem.ts';
import { record } from '../audit/audit.ts';
import { lockStaff, type Prisma, type Transaction } from '../database.ts';
import type { Invitation } from '../generated/prisma/client.ts';
import { hashToken, newToken } from './invitation-token.ts';
import type { Standing } from './standing.ts';
import { stillMay } from './still-may.ts';

const lifetimeMs = 7 * 24 * 60 * 60 * 1000;

export type InvitationState = 'open' | 'accepted' | 'expired' | 'withdrawn';

export function stateOf(invitation: Invitation, now: Date): InvitationState {
  if (invitation.acceptedAt) return 'accepted';
  if (invitation.withdrawnAt) return 'withdrawn';
  return invitation.expiresAt <= now ? 'expired' : 'open';
}

const rightToOffer = (role: Role): Action =>
  role === 'headCoach' ? 'member.inviteHeadCoach' : 'member.invite';

export async function invite(
  prisma: Prisma,
  by: Standing,
  offer: { role: Role; group: Group },
): Promise<{ invitation: Invitation; token: string }> {
  const token = newToken();
  const invitation = await prisma.$transaction(async (transaction) => {
    await stillMay(transaction, by, rightToOffer(offer.role));
    mustFit('invitations', await countOpen(transaction, by.staffId));
    const made = await transaction.invitation.create({
      data: {
        ...offer,
        staffId: by.staffId,
        tokenHash: hashToken(token),
        invitedBy: by.memberId,
        expiresAt: new Date(Date.now() + lifetimeMs),
      },
    });
    await record(transaction, {
      staffId: by.staffId,
      by,
      what: `invited somebody as ${inWords(offer)}`,
      detail: { invitation: made.id, ...offer },
    });
    return made;
  });
  return { invitation, token };
}

const countOpen = (transaction: Transaction, staffId: string): Promise<number> =>
  transaction.invitation.count({
    where: { staffId, acceptedAt: null, withdrawnAt: null, expiresAt: { gt: new Date() } },
  });

/** The invitation behind a link that still holds; throws the problem that tells why it does not. */
export async function openInvitation(prisma: Prisma, token: string) {
  const invitation = await prisma.invitation.findUnique({
    where: { tokenHash: hashToken(token) },
    include: { staff: { select: { name: true } } },
  });
  if (!invitation) throw notFound('invitation');
  const state = stateOf(invitation, new Date());
  if (state !== 'open') throw noLonger(state);
  return invitation;
}

/** Joins a person to the staff. Of two who come with the same link, one gets in; of two links of one person, one is used. */
export async function acceptInvitation(
  prisma: Prisma,
  user: { id: string; name: string },
  token: string,
) {
  const invitation = await openInvitation(prisma, token);
  const { staffId, role, group } = invitation;
  return await prisma.$transaction(async (transaction) => {
    await lockStaff(transaction, staffId);
    const now = new Date();
    const taken = await transaction.invitation.updateMany({
      where: { id: invitation.id, acceptedAt: null, withdrawnAt: null, expiresAt: { gt: now } },
      data: { acceptedAt: now, acceptedBy: user.name },
    });
    if (taken.count === 0) throw noLonger('accepted');
    const before = await transaction.member.findUnique({
      where: { staffId_userId: { staffId, userId: user.id } },
    });
    // Throwing takes the acceptance back: the link is left for whom it was meant.
    if (before && !before.removedAt) {
      throw new ApiProblem(
        'alreadyMember',
        `You are on ${invitation.staff.name} already; the link is still good for somebody else.`,
      );
    }
    const member = await transaction.member.upsert({
      where: { staffId_userId: { staffId, userId: user.id } },
      create: { staffId, userId: user.id, role, group },
      update: { role, group, removedAt: null },
    });
    await record(transaction, {
      staffId,
      by: { userId: user.id, name: user.name },
      what: `joined as ${inWords(invitation)}`,
      detail: { invitation: invitation.id, member: member.id },
    });
    return { memberId: member.id, staffId, staffName: invitation.staff.name, role, group };
  });
}

export async function withdrawInvitation(
  prisma: Prisma,
  by: Standing,
  invitationId: string,
): Promise<void> {
  await prisma.$transaction(async (transaction) => {
    const found = await transaction.invitation.findFirst({
      where: { id: invitationId, staffId: by.staffId },
    });
    if (!found) throw notFound('invitation');
    const taken = await transaction.invitation.updateMany({
      where: { id: found.id, acceptedAt: null, withdrawnAt: null },
      data: { withdrawnAt: new Date() },
    });
    if (taken.count === 0) throw noLonger(found.acceptedAt ? 'accepted' : 'withdrawn');
    await recordWithdrawal(transaction, by, found);
  });
}

/**
 * Withdraws the open links of a member that he may make no longer: else he would come back by one of them,
 * or as what he was. `role`: which he has now; null: he was removed.
 */
export async function withdrawOutgrown(
  transaction: Transaction,
  by: Standing,
  memberId: string,
  role: Role | null,
): Promise<void> {
  const open = await transaction.invitation.findMany({
    where: {
      staffId: by.staffId,
      invitedBy: memberId,
      acceptedAt: null,
      withdrawnAt: null,
      expiresAt: { gt: new Date() },
    },
    orderBy: { createdAt: 'asc' },
  });
  for (const one of open) {
    if (role && may(role, rightToOffer(one.role))) continue;
    await transaction.invitation.update({
      where: { id: one.id },
      data: { withdrawnAt: new Date() },
    });
    await recordWithdrawal(transaction, by, one);
  }
}

const recordWithdrawal = (
  transaction: Transaction,
  by: Standing,
  invitation: Invitation,
): Promise<void> =>
  record(transaction, {
    staffId: by.staffId,
    by,
    what: `withdrew an invitation as ${inWords(invitation)}`,
    detail: { invitation: invitation.id },
  });

const why: Record<Exclude<InvitationState, 'open'>, string> = {
  accepted: 'It has been used already; a link lets in one person.',
  expired: 'It was good for seven days.',
  withdrawn: 'It was withdrawn.',
};
const noLonger = (state: Exclude<InvitationState, 'open'>): ApiProblem =>
  new ApiProblem('gone', why[state]);

/** "position coach, receivers" */
export const inWords = ({ role, group }: { role: Role; group: Group }): string =>
  [roleNames[role], ...(group === 'all' ? [] : [groupNames[group]])].join(', ').toLowerCase();
