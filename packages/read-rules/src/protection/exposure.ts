import { tooNearToCall } from '../clock/values.ts';
import type { FreeRusher } from './pick-ups.ts';
import type { Protected } from './protect.ts';

/** Why a free rusher is a fault: nobody is quick enough and too many come, or nobody has him, or the card does not throw hot. */
export const causes = ['outnumbered', 'nobodyHasHim', 'card'] as const;
export type Cause = (typeof causes)[number];

/** A free rusher who is on the passer before the ball can go. */
export interface Exposed {
  readonly cause: Cause;
  readonly seen: Protected;
  readonly first: FreeRusher;
  /** Seconds by which he is there before the ball can go. */
  readonly late: number;
}

/** None where everybody is blocked, or somebody can be thrown to before the first free man is there; never more than one. */
export function exposedIn(seen: Protected): readonly Exposed[] {
  const { first, outlets, thrown, outnumbered } = seen;
  if (!first) return [];
  const lateBy = (ready: number | undefined): number =>
    Math.min(9, (ready ?? Number.POSITIVE_INFINITY) - first.arrives);
  const quickest = lateBy(outlets[0]?.ready);
  const isLate = (late: number): boolean => late > tooNearToCall.value;
  if (isLate(quickest))
    return [{ cause: outnumbered ? 'outnumbered' : 'nobodyHasHim', seen, first, late: quickest }];
  return thrown && isLate(lateBy(thrown.ready))
    ? [{ cause: 'card', seen, first, late: lateBy(thrown.ready) }]
    : [];
}
