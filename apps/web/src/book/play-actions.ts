import type { BoardLine } from '@stemline/protocol/api/boards';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';

export type PlayAction = 'open' | 'openSigned' | 'duplicate' | 'letIn' | 'archive' | 'restore';

/** What a member may do with one line of the book, in the order of its menu. */
export function playActions(
  role: Role,
  line: Pick<BoardLine, 'archivedAt' | 'signedVersion'>,
): PlayAction[] {
  const actions: PlayAction[] = [];
  if (may(role, 'board.open')) actions.push('open');
  if (line.signedVersion !== null && may(role, 'version.read')) actions.push('openSigned');
  if (may(role, 'board.create')) actions.push('duplicate');
  if (may(role, 'board.letIn') && line.archivedAt === null) actions.push('letIn');
  if (may(role, 'board.archive')) actions.push(line.archivedAt === null ? 'archive' : 'restore');
  return actions;
}

export const playActionWords: Record<PlayAction, string> = {
  open: 'Open board',
  openSigned: 'Open signed version',
  duplicate: 'Duplicate',
  letIn: 'Let somebody in',
  archive: 'Archive',
  restore: 'Restore to the book',
};
