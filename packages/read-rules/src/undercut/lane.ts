import { ballDistance, ballPath, spansBelow } from '@stemline/football/flight/path';
import type { Point } from '@stemline/football/geometry';
import { reachesUp, shields } from '../clock/values.ts';
import type { ThrownBall } from '../throws/ball.ts';

/** A spot of the ball's way that a hand can reach. */
export interface LaneSpot {
  readonly at: Point;
  /** When the ball is there, seconds from the snap. */
  readonly seconds: number;
}

/** The part of a ball's way that a defender can get under. */
export interface Lane {
  readonly from: Point;
  /** Of length 1. */
  readonly direction: Point;
  /** Yards from the hand to the catch. */
  readonly length: number;
  /** Spots in order of time, a list for each stretch below the reach. */
  readonly stretches: readonly (readonly LaneSpot[])[];
  /** Where the ball is at a time, seconds from the snap. */
  readonly spotAt: (seconds: number) => LaneSpot;
}

/** Spots of one stretch. Between them the margin is searched, so they need only part its valleys. */
const spots = 17;

/** Nobody gets under a ball that is still behind the line: that is a batted ball, a matter of the rush. */
const pastLine = 0.5;

/**
 * From the line of scrimmage on, as long as the ball flies no higher than a hand reaches, up to
 * where the receiver himself stands in the way. Null where nothing is left of it.
 */
export function laneOf({ from, to, out, flight }: ThrownBall): Lane | null {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length <= shields.value) return null;
  const direction: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const path = ballPath(flight);
  const spotAt = (seconds: number): LaneSpot => {
    const along = ballDistance(path, seconds - out);
    return { at: [from[0] + direction[0] * along, from[1] + direction[1] * along], seconds };
  };
  const begins = direction[1] > 1e-9 ? Math.max(0, (pastLine - from[1]) / direction[1]) : 0;
  if (from[1] + direction[1] * length < pastLine) return null;
  const starts = timeOver(path, begins);
  const ends = timeOver(path, length - shields.value);
  const stretches = spansBelow(path, reachesUp.value).flatMap(([a, b]) => {
    const [first, last] = [Math.max(a, starts), Math.min(b, ends)];
    if (!(last > first)) return [];
    return [
      Array.from({ length: spots }, (_, i) =>
        spotAt(out + first + ((last - first) * i) / (spots - 1)),
      ),
    ];
  });
  return stretches.length === 0 ? null : { from, direction, length, stretches, spotAt };
}

/** When the ball has come so far along the ground, seconds from its release; to 10⁻⁶ s. */
function timeOver(path: ReturnType<typeof ballPath>, along: number): number {
  let low = 0;
  let high = path.knots.at(-1) as number;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (ballDistance(path, middle) < along) low = middle;
    else high = middle;
  }
  return low;
}
