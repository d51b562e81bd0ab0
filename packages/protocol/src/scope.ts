import type { EditScope } from '@stemline/board/edit-scope';
import type { Position } from '@stemline/football/play';
import { may } from './permissions.ts';
import type { Group, Role } from './roles.ts';

const positionsOf: Record<Group, readonly Position[]> = {
  all: ['C', 'G', 'T', 'TE', 'WR', 'RB', 'QB'],
  line: ['C', 'G', 'T'],
  receivers: ['WR', 'TE'],
  tightEnds: ['TE'],
  backs: ['RB'],
  quarterbacks: ['QB'],
};

const whole: EditScope = { kind: 'all' };
const nothing: EditScope = { kind: 'none' };

/** `letIn`: a coordinator or the head coach has opened this one board to the member. */
export function editScope(member: { role: Role; group: Group; letIn: boolean }): EditScope {
  if (may(member.role, 'board.editAll')) return whole;
  if (may(member.role, 'board.editGroup')) {
    return member.letIn || member.group === 'all'
      ? whole
      : { kind: 'positions', positions: positionsOf[member.group] };
  }
  if (may(member.role, 'board.editWhereLetIn') && member.letIn) return whole;
  return nothing;
}
