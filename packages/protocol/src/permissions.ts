import type { Role } from './roles.ts';

/**
 * Who may do what. The one table: the API, the rooms and the screens all ask `may`.
 * Scope inside a board (a position coach's group, an assistant let in to one play) is decided by
 * `editScope` in `scope.ts`, since it depends on the member, not only on his role.
 */
export const permissions = {
  'book.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant', 'player'],
  'board.open': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'board.editAll': ['headCoach', 'coordinator'],
  'board.editGroup': ['positionCoach'],
  'board.editWhereLetIn': ['assistant'],
  'board.create': ['headCoach', 'coordinator', 'positionCoach'],
  'board.archive': ['headCoach', 'coordinator'],
  'board.letIn': ['headCoach', 'coordinator'],
  'comment.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'comment.write': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'comment.resolve': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'finding.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'finding.waive': ['headCoach'],
  'change.sendUp': ['headCoach', 'coordinator', 'positionCoach'],
  'change.decide': ['headCoach'],
  'change.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'version.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant', 'player'],
  'look.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'look.edit': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'member.read': ['headCoach', 'coordinator', 'positionCoach', 'assistant'],
  'member.invite': ['headCoach', 'coordinator'],
  /** A coordinator may not make a head coach, himself under another address least of all. */
  'member.inviteHeadCoach': ['headCoach'],
  'member.change': ['headCoach'],
  'audit.read': ['headCoach', 'coordinator'],
  'staff.export': ['headCoach'],
} as const satisfies Record<string, readonly Role[]>;

export type Action = keyof typeof permissions;

export const may = (role: Role, action: Action): boolean =>
  (permissions[action] as readonly Role[]).includes(role);
