import { keeps, usualCosts } from '@stemline/football/footwork/costs';
import { secondsTo } from '@stemline/football/footwork/stride';
import type { Point } from '@stemline/football/geometry';
import { timeToRun } from '@stemline/football/movement';
import { degrees } from '@stemline/football/units';
import { armsLength } from '../clock/values.ts';
import type { FreeDefender } from './defender-clock.ts';
import type { Lane, LaneSpot } from './lane.ts';

/** The nearest a defender comes to being under a ball. */
export interface Margin {
  /** How long after the ball his hand is there, at the spot where it is least. Negative: before it. */
  readonly seconds: number;
  readonly at: Point;
}

const length = (x: number, y: number): number => Math.sqrt(x * x + y * y);

/** How exactly the least margin is found, seconds of the ball's time. */
const exactness = 1e-4;
const golden = (Math.sqrt(5) - 1) / 2;

/**
 * When a free defender's hand is at a spot, seconds from the snap: from the speed that the turn to it
 * leaves him, by the sprint model, until it is within an arm.
 */
export function handAt({ free, at, velocity, runner }: FreeDefender, spot: Point): number {
  const [dx, dy] = [spot[0] - at[0], spot[1] - at[1]];
  const far = length(dx, dy);
  const run = far - armsLength.value;
  if (run <= 0) return free;
  const speed = length(velocity[0], velocity[1]);
  const cross = velocity[0] * dy - velocity[1] * dx;
  const turn = degrees(Math.abs(Math.atan2(cross, velocity[0] * dx + velocity[1] * dy)));
  const kept = speed === 0 ? 0 : speed * keeps(usualCosts, turn);
  const { maxSpeed, tau } = runner;
  return (
    free + secondsTo({ kind: 'push', speed: Math.min(kept, maxSpeed), limit: maxSpeed, tau }, run)
  );
}

/**
 * The least margin over a lane; null for who is not under it (he stands beyond the catch, and would
 * have to come through the receiver), and for who is too far to get within `near` seconds of the ball.
 */
export function leastMargin(defender: FreeDefender, lane: Lane, near: number): Margin | null {
  if (isOver(defender, lane) || soonest(defender, lane) > near) return null;
  let best: Margin | null = null;
  const margin = (seconds: number): Margin => {
    const spot = lane.spotAt(seconds);
    return { seconds: handAt(defender, spot.at) - spot.seconds, at: spot.at };
  };
  for (const stretch of lane.stretches) {
    let least = Number.POSITIVE_INFINITY;
    let index = 0;
    for (let i = 0; i < stretch.length; i++) {
      const spot = stretch[i] as LaneSpot;
      if (straightTo(defender, spot) >= least) continue;
      const seconds = handAt(defender, spot.at) - spot.seconds;
      if (seconds < least) {
        least = seconds;
        index = i;
      }
    }
    if (least > near + betweenSpots(defender, stretch)) continue;
    const low = stretch[Math.max(0, index - 1)]?.seconds ?? 0;
    const high = stretch[Math.min(stretch.length - 1, index + 1)]?.seconds ?? 0;
    const found = [margin(stretch[index]?.seconds ?? low), searched(margin, low, high)];
    for (const one of found) if (!best || one.seconds < best.seconds) best = one;
  }
  return best && best.seconds <= near ? best : null;
}

/** More than a margin can fall between one spot and the next: the way between them, run from a stand. */
function betweenSpots({ runner }: FreeDefender, stretch: readonly LaneSpot[]): number {
  const [first, second] = stretch;
  if (!first || !second) return 0;
  const step = length(second.at[0] - first.at[0], second.at[1] - first.at[1]);
  return 2 * timeToRun(runner, step) + second.seconds - first.seconds;
}

/** Golden-section search. */
function searched(margin: (seconds: number) => Margin, from: number, to: number): Margin {
  let [low, high] = [from, to];
  let [a, b] = [high - golden * (high - low), low + golden * (high - low)];
  let [atA, atB] = [margin(a), margin(b)];
  while (high - low > exactness) {
    if (atA.seconds <= atB.seconds) {
      [high, b, atB] = [b, a, atA];
      a = high - golden * (high - low);
      atA = margin(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + golden * (high - low);
      atB = margin(b);
    }
  }
  return atA.seconds <= atB.seconds ? atA : atB;
}

/** Half a yard beyond the catch still counts as level with it. */
const level = 0.5;

const isOver = ({ at }: FreeDefender, { from, direction, length: most }: Lane): boolean =>
  (at[0] - from[0]) * direction[0] + (at[1] - from[1]) * direction[1] > most + level;

/** A bound on his margin at a spot: straight there at full speed. */
function straightTo({ free, at, runner }: FreeDefender, spot: LaneSpot): number {
  const off = length(spot.at[0] - at[0], spot.at[1] - at[1]) - armsLength.value;
  return free + Math.max(0, off) / runner.maxSpeed - spot.seconds;
}

/** A bound on his margin: straight at full speed to the lane's nearest point, for its last ball. */
function soonest({ free, at, runner }: FreeDefender, lane: Lane): number {
  let bound = Number.POSITIVE_INFINITY;
  for (const stretch of lane.stretches) {
    const [first, last] = [stretch[0], stretch.at(-1)];
    if (!first || !last) continue;
    const [dx, dy] = [last.at[0] - first.at[0], last.at[1] - first.at[1]];
    const square = dx * dx + dy * dy;
    const [px, py] = [at[0] - first.at[0], at[1] - first.at[1]];
    const share = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square));
    const off = length(px - share * dx, py - share * dy) - armsLength.value;
    bound = Math.min(bound, free + Math.max(0, off) / runner.maxSpeed - last.seconds);
  }
  return bound;
}
