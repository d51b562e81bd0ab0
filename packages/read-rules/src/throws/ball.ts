import { standardBall } from '@stemline/football/flight/ball';
import { catchHeight, passers, releaseHeight } from '@stemline/football/flight/passer';
import { type Delivery, type Flight, throwBall } from '@stemline/football/flight/throw';
import { positionAt, type TimedPath } from '@stemline/football/footwork/timed-path';
import { distance, type Point } from '@stemline/football/geometry';
import type { RuleCode } from '@stemline/football/rulecode';

/** A ball on its way to a man on his way. Seconds from the snap, absolute yards. */
export interface ThrownBall {
  readonly from: Point;
  readonly out: number;
  readonly flight: Flight;
  /** Where and when he catches it. */
  readonly to: Point;
  readonly caught: number;
}

/** Beyond this a ball is no longer driven on a line. Yards of throw; common practice, no single source. */
const drivenTo = 30;
/** The launch of a ball laid over the defence, and of one laid over a man underneath. Degrees, ours. */
const deepAngle = 32;
const layeredAngle = 22;
/** From here on a ball can be laid over a man underneath. Yards of throw; ours. */
const layeredFrom = 12;
const shortest = 0.5;
const longest = 120;

/** The ways in which a passer would throw so far, the usual one first. */
export function deliveries(code: RuleCode, yards: number): readonly Delivery[] {
  const { drive, touch } = passers[code];
  const driven: Delivery = { kind: 'drive', speed: drive.value };
  const loft = (angle: number, most: number): Delivery => ({ kind: 'loft', angle, maxSpeed: most });
  if (yards > drivenTo) return [loft(deepAngle, drive.value), driven];
  return yards >= layeredFrom ? [driven, loft(layeredAngle, touch.value)] : [driven];
}

/** One flight over so many yards; null where the arm does not reach. */
function fly(yards: number, delivery: Delivery): Flight | null {
  const thrown = throwBall({
    distance: Math.min(longest, Math.max(shortest, yards)),
    releaseHeight: releaseHeight.value,
    catchHeight: catchHeight.value,
    delivery,
    ball: standardBall,
  });
  return thrown.kind === 'flight' ? thrown : null;
}

/** He and the ball come together to this many seconds. */
const together = 1e-4;
const turns = 24;

/**
 * The ball that meets a man on his path when it leaves `from` at `out`, thrown in a given way; null
 * where the arm does not reach him. Secant steps on (time of flight to where he then is) − (time
 * given); plain turns where a secant would step back before the release.
 */
function meet(path: TimedPath, from: Point, out: number, delivery: Delivery): ThrownBall | null {
  let seconds = distance(from, positionAt(path, out)) / 20;
  let before: { readonly seconds: number; readonly off: number } | null = null;
  for (let turn = 0; turn < turns; turn++) {
    const to = positionAt(path, out + seconds);
    const flight = fly(distance(from, to), delivery);
    if (!flight) return null;
    const off = flight.time - seconds;
    if (Math.abs(off) <= together) return { from, out, flight, to, caught: out + flight.time };
    const slope: number = before ? (off - before.off) / (seconds - before.seconds) : -1;
    const next: number = slope < 0 ? seconds - off / slope : flight.time;
    before = { seconds, off };
    seconds = next > 0 ? next : flight.time;
  }
  return null;
}

/** Steps and span in which a meeting is looked for one by one, seconds. */
const lookStep = 0.1;
const lookFor = 6;

/** How far past the arm a man is. */
export interface BeyondArm {
  /** Where he is when a ball of the arm's longest throw would come down, yards from the hand. */
  readonly away: number;
  /** The longest throw, yards. */
  readonly farthest: number;
}

/**
 * Whether the strongest arm of the level never reaches him: at no moment of his way is he as near as
 * the ball would then have flown. Null where it does somewhere.
 */
export function beyondArm(
  code: RuleCode,
  path: TimedPath,
  from: Point,
  out: number,
): BeyondArm | null {
  const { drive } = passers[code];
  const height = { releaseHeight: releaseHeight.value, catchHeight: catchHeight.value };
  const ball = { ...height, delivery: { kind: 'touch', speed: drive.to } as const };
  const thrown = throwBall({ ...ball, distance: longest, ball: standardBall });
  if (thrown.kind === 'flight' || thrown.why !== 'tooFar') return null;
  const { farthest } = thrown;
  const lands = throwBall({ ...ball, distance: farthest - 0.1, ball: standardBall });
  if (lands.kind !== 'flight') return null;
  for (let after = 0; after <= lookFor; after += lookStep) {
    const yards = Math.max(shortest, distance(from, positionAt(path, out + after)));
    if (yards >= farthest) continue;
    const flies = throwBall({
      ...height,
      distance: yards,
      delivery: { kind: 'drive', speed: drive.to },
      ball: standardBall,
    });
    if (flies.kind === 'flight' && flies.time <= after) return null;
  }
  return { away: distance(from, positionAt(path, out + lands.time)), farthest };
}

/** The ways to throw a man the ball. */
export interface Balls {
  /** As it would be thrown; null where the arm does not reach him. */
  readonly usual: ThrownBall | null;
  /** How else it might be. Worked out when first asked. */
  readonly others: () => readonly ThrownBall[];
}

/** Every way to throw him the ball at `out`. */
export function ballsTo(code: RuleCode, path: TimedPath, from: Point, out: number): Balls {
  const about = distance(from, positionAt(path, out + 0.8));
  const ways = deliveries(code, about);
  let tried = 0;
  let usual: ThrownBall | null = null;
  while (!usual && tried < ways.length) usual = meet(path, from, out, ways[tried++] as Delivery);
  let others: readonly ThrownBall[] | null = null;
  return {
    usual,
    others: () => {
      others ??= ways.slice(tried).flatMap((way) => meet(path, from, out, way) ?? []);
      return others;
    },
  };
}
