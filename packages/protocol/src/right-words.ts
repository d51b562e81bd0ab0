import type { Action } from './permissions.ts';
import { type Role, roleNames } from './roles.ts';

/** What each right lets somebody do, after "you may not". */
const deeds: Record<Action, string> = {
  'book.read': 'open the book',
  'board.open': 'open the working boards',
  'board.editAll': 'change the whole play',
  'board.editGroup': 'change the men of a group',
  'board.editWhereLetIn': 'change plays that you were let in to',
  'board.create': 'start or copy a play',
  'board.archive': 'archive a play',
  'board.letIn': 'let assistants in to a play',
  'comment.read': 'read comments',
  'comment.write': 'write comments',
  'comment.resolve': 'resolve comments',
  'finding.read': 'read findings',
  'finding.waive': 'waive a finding',
  'change.sendUp': 'send a play up',
  'change.decide': 'sign a play off or send it back',
  'change.read': 'see what was sent up',
  'version.read': 'open signed plays',
  'look.read': 'open the look shelf',
  'look.edit': 'change the look shelf',
  'member.read': 'see who is on the staff',
  'member.invite': 'invite people',
  'member.inviteHeadCoach': 'invite a head coach',
  'member.change': 'change or remove members of the staff',
  'audit.read': 'see who did what',
  'staff.export': 'export the staff',
};

/** Why somebody was refused, as he is told. */
export function lacksRight(role: Role, action: Action): string {
  const name = roleNames[role].toLowerCase();
  const article = /^[aeiou]/.test(name) ? 'an' : 'a';
  return `As ${article} ${name} you may not ${deeds[action]}.`;
}
