import type { Mend } from '../mends/mend.ts';
import { yards } from '../words.ts';
import type { PlannedThrow } from './planned.ts';
import type { Change } from './replanned.ts';

/** A change of a break as an edit of its branch; none for a drawn route, or where it cannot be said. */
export function mendsFor(
  { choice, receiver }: PlannedThrow,
  { angle, depth }: Change,
): readonly Mend[] {
  if (!choice) return [];
  const { id: player } = receiver;
  const { id: branch, name, finish, decideBy, breakAt } = choice.branch;
  if (angle !== undefined) {
    if (finish.kind !== 'in' && finish.kind !== 'out') return [];
    const says = `Have ${name} broken at ${angle}° off upfield.`;
    return [{ do: 'setFinish', player, branch, finish: { ...finish, angle }, says }];
  }
  if (depth === undefined || decideBy > depth) return [];
  const from = depth < breakAt.from ? depth : Math.min(depth, Math.max(breakAt.from, decideBy));
  const says = `Have ${name} broken at ${from === depth ? yards(depth) : `${yards(from)} to ${yards(depth)}`} yd.`;
  return [{ do: 'setDepths', player, branch, decideBy, breakAt: { from, to: depth }, says }];
}
