import type { Finding } from '../finding.ts';
import { mendsForLateDecision } from '../mends/depths.ts';
import { isRoute } from '../reader.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import { branchElement, type OnCard } from './on-card.ts';

/** A branch that may break before it has been decided; one that must is stopped. */
export function lateDecision(on: OnCard): Finding[] {
  const { card, who } = on;
  return card.branches.filter(isRoute).flatMap((branch): Finding[] => {
    const { decideBy, breakAt, id, name } = branch;
    if (decideBy <= breakAt.from || breakAt.from > breakAt.to) return [];
    const never = decideBy > breakAt.to;
    return [
      {
        id: findingId('lateDecision', [card.player, id]),
        kind: 'lateDecision',
        severity: never ? 'stop' : 'warn',
        elements: [branchElement(card, id)],
        says: never
          ? `${who} breaks ${name} by ${yards(breakAt.to)} yd but decides only by ${yards(decideBy)}.`
          : `${who} may break ${name} at ${yards(breakAt.from)} yd, before he has to decide at ${yards(decideBy)}.`,
        mend: `Have him decide by ${yards(breakAt.from)} yd, or break no sooner than ${yards(decideBy)}.`,
        witness: null,
        mends: mendsForLateDecision(on, branch),
      },
    ];
  });
}
