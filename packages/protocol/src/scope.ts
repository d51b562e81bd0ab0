import { may } from './permissions.ts';
import type { Group, Role } from './roles.ts';

/** How much of one board a member may change. */
export type EditScope =
  | { kind: 'none' }
  | { kind: 'all' }
  /** Players of these positions with their routes, motions and cards, and the notes. */
  | { kind: 'positions'; positions: readonly string[] };

const positionsOf: Record<Group, readonly string[]> = {
  all: ['C', 'G', 'T', 'TE', 'WR', 'RB', 'QB'],
  line: ['C', 'G', 'T'],
  receivers: ['WR', 'TE'],
  tightEnds: ['TE'],
  backs: ['RB'],
  quarterbacks: ['QB'],
};

/** `letIn`: a coordinator or the head coach has opened this one board to the member. */
export function editScope(member: { role: Role; group: Group; letIn: boolean }): EditScope {
  if (may(member.role, 'board.editAll')) return { kind: 'all' };
  if (may(member.role, 'board.editGroup')) {
    return member.letIn || member.group === 'all'
      ? { kind: 'all' }
      : { kind: 'positions', positions: positionsOf[member.group] };
  }
  if (may(member.role, 'board.editWhereLetIn') && member.letIn) return { kind: 'all' };
  return { kind: 'none' };
}
