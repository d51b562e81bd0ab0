import { may } from '@stemline/protocol/permissions';
import { type Group, groupNames, type Role, roleNames, roleSchema } from '@stemline/protocol/roles';

/** "Position coach, receivers": a role with its group where the group limits it. */
export const roleWords = (role: Role, group: Group): string =>
  role === 'positionCoach' && group !== 'all'
    ? `${roleNames[role]}, ${groupNames[group].toLowerCase()}`
    : roleNames[role];

/** What a role is for, beside the choice of it. */
export const roleAbout: Record<Role, string> = {
  headCoach: 'Edits everything, signs off, and runs the staff.',
  coordinator: 'Edits every play, sends changes up, invites others.',
  positionCoach: 'Edits the players of his group, their cards and the notes.',
  assistant: 'Comments everywhere; edits the plays he is let in to.',
  player: 'Sees signed-off plays only.',
};

/** Roles that a member may give by invitation; only a head coach makes another. */
export const rolesToInvite = (inviter: Role): readonly Role[] =>
  roleSchema.options.filter(
    (role) => role !== 'headCoach' || may(inviter, 'member.inviteHeadCoach'),
  );
