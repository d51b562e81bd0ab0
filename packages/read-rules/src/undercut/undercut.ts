import type { AlignedLook, Defender, Reaction, ReactionChoice } from '@stemline/football/look';
import type { RuleCode } from '@stemline/football/rulecode';
import { chosen } from '../facts/sighting.ts';
import type { ThrownBall } from '../throws/ball.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import { freeDefender } from './defender-clock.ts';
import { type Lane, laneOf } from './lane.ts';
import { leastMargin, type Margin } from './margin.ts';

/** Somebody under a throw. */
export interface Under extends Margin {
  readonly defender: Defender;
  readonly reaction: Reaction;
}

/** A planned throw, ready to be held against defences. */
export interface Thrown {
  readonly planned: PlannedThrow;
  /** Margins above this are nobody's concern. Seconds. */
  readonly near: number;
  /** The usual way's lane; null where no part of its flight is within reach. */
  readonly usual: KnownLane | null;
  /** Those of the other ways; worked out when first asked. */
  readonly others: () => readonly (KnownLane | null)[];
}

/** A lane with the margins worked out so far: a defender's is the same whatever the others do. */
interface KnownLane {
  readonly margin: (defender: Defender, reaction: Reaction) => Under | null;
}

export function thrownOf(code: RuleCode, planned: PlannedThrow, near: number): Thrown {
  const { usual, others } = planned.balls;
  const known = (ball: ThrownBall): KnownLane | null => {
    const lane = laneOf(ball);
    return lane && { margin: remembered((d, r) => marginOf(code, planned, lane, d, r, near)) };
  };
  let lanes: readonly (KnownLane | null)[] | null = null;
  return {
    planned,
    near,
    usual: usual && known(usual),
    others: () => {
      lanes ??= others().map(known);
      return lanes;
    },
  };
}

function remembered(work: KnownLane['margin']): KnownLane['margin'] {
  const known = new Map<Defender, Map<Reaction, Under | null>>();
  return (defender, reaction) => {
    const his = known.get(defender) ?? new Map<Reaction, Under | null>();
    known.set(defender, his);
    let under = his.get(reaction);
    if (under === undefined) {
      under = work(defender, reaction);
      his.set(reaction, under);
    }
    return under;
  };
}

/**
 * The least margin that a defence leaves a throw, by the way to throw it that leaves most; null where
 * nobody gets near the ball of some way, or none of its flight is within reach.
 */
export function underneath(
  { usual, others }: Thrown,
  look: AlignedLook,
  reactions: ReactionChoice,
): Under | null {
  let best = usual && nearestIn(usual, look, reactions);
  if (!best) return null;
  for (const lane of others()) {
    const under = lane && nearestIn(lane, look, reactions);
    if (!under) return null;
    if (under.seconds > best.seconds) best = under;
  }
  return best;
}

function nearestIn(lane: KnownLane, look: AlignedLook, reactions: ReactionChoice): Under | null {
  let least: Under | null = null;
  for (const defender of look.defenders) {
    const under = lane.margin(defender, chosen(defender, reactions));
    if (under && (!least || under.seconds < least.seconds)) least = under;
  }
  return least;
}

/** One defender's margin over one lane; null where he is not under it within `near` seconds. */
export function marginOf(
  code: RuleCode,
  planned: PlannedThrow,
  lane: Lane,
  defender: Defender,
  reaction: Reaction,
  near: number,
): Under | null {
  const free = freeDefender(code, defender, reaction, planned, planned.out);
  const margin = free && leastMargin(free, lane, near);
  return margin && { ...margin, defender, reaction };
}
