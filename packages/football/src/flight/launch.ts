import {
  type Arc,
  arcOf,
  type Flown,
  fallPerInverseSquare,
  fly,
  riseFurther,
  risePerSlope,
  slopeFurther,
} from './arc.ts';
import type { Air } from './ball.ts';

/** Where the ball has to pass: along the ground, positive, and above (or below) the release. */
export interface Aim {
  readonly distance: number;
  readonly rise: number;
}

/** A launch that passes the aim, and what it has flown until there. */
export interface Launch {
  readonly arc: Arc;
  readonly flown: Flown;
}

/** How exactly the aim is hit, as a part of its distance. */
const exactness = 1e-12;
/** How near the end of a trial flight must be for its derivatives to be believed, likewise. */
const nearby = 1e-3;
/** A ball that comes down more steeply than this no longer gets anywhere. */
const steepest = -1e4;
/** Enough for Newton at a double root, where each turn wins two bits; elsewhere three to six do. */
const turns = 100;

/** v⁴ − g(gX² + 2hv²): negative where the aim is out of range even in a vacuum. */
const vacuumMargin = ({ gravity }: Air, { distance, rise }: Aim, speed: number): number =>
  speed ** 4 - gravity * (gravity * distance * distance + 2 * rise * speed * speed);

/**
 * The low arc at a given speed, or null where the aim is out of range.
 *
 * The height at which the ball passes the aim's distance is a concave function of the launch slope
 * (exactly so in a vacuum; with drag the published test scans it), and drag only lowers it. So
 * Newton from the vacuum's answer climbs to the true one from below and never overshoots; where it
 * comes past the top while still below the aim, no slope reaches it.
 */
export function lowLaunch(air: Air, aim: Aim, speed: number): Launch | null {
  const margin = vacuumMargin(air, aim, speed);
  if (!(margin >= 0)) return null;
  const { distance, rise } = aim;
  const square = speed * speed;
  const vacuumHigh = (square + Math.sqrt(margin)) / (air.gravity * distance);
  // Vieta's form of (v² − √margin)/gX, which does not cancel.
  let slope = (1 + (2 * rise * square) / (air.gravity * distance * distance)) / vacuumHigh;
  let arc = arcOf(air, 1 / square, slope);
  let arrival = slope - air.gravity * distance * arc.launch;
  for (let turn = 0; turn < turns; turn++) {
    const flown = fly(arc, arrival);
    const further = distance - flown.distance;
    const short = rise - riseFurther(arc, flown, further);
    arrival = Math.min(slopeFurther(arc, flown, further), slope);
    if (!(arrival > steepest)) return null;
    const passes = Math.abs(further) <= exactness * distance;
    if (passes && Math.abs(short) <= exactness * distance * (1 + Math.abs(arrival)))
      return { arc, flown };
    if (Math.abs(further) > nearby * distance) continue;
    const gain = risePerSlope(arc, flown);
    if (!(gain > 0)) return null;
    const next = slope + short / gain;
    if (!(next <= vacuumHigh)) return null;
    arrival += next - slope;
    slope = next;
    arc = arcOf(air, 1 / square, slope);
  }
  return null;
}

/**
 * The high arc at a given speed, or null where the aim is out of range. Same argument in the launch
 * angle and the distance at which the ball comes down to the aim's height (in a vacuum v² sin 2θ/g).
 */
export function highLaunch(air: Air, aim: Aim, speed: number): Launch | null {
  const margin = vacuumMargin(air, aim, speed);
  if (!(margin >= 0)) return null;
  const square = speed * speed;
  let angle = Math.atan2(square + Math.sqrt(margin), air.gravity * aim.distance);
  for (let turn = 0; turn < turns; turn++) {
    const arc = arcOf(air, 1 / square, Math.tan(angle));
    const flown = flyDownTo(arc, aim.rise);
    if (flown === null) return null;
    const short = aim.distance - flown.distance;
    if (Math.abs(short) <= exactness * aim.distance) return { arc, flown };
    const gain = (risePerSlope(arc, flown) * (1 + arc.slope * arc.slope)) / -flown.slope;
    if (!(gain < 0)) return null;
    const next = angle + short / gain;
    if (next <= 0) return null;
    if (next === angle) return { arc, flown };
    angle = next;
  }
  return null;
}

/**
 * The flight until the ball comes down to a height over its release; null where it never gets so
 * high. Newton in q = asinh(slope), halving its bracket where a step would leave it.
 */
export function flyDownTo(arc: Arc, rise: number): Flown | null {
  let high = Math.min(0, arc.start);
  if (fly(arc, Math.sinh(high)).rise < rise) return null;
  let low = Math.asinh(steepest);
  const vacuum = arc.slope * arc.slope - 2 * arc.gravity * rise * arc.launch;
  let q = Math.asinh(-Math.sqrt(Math.max(vacuum, 0)));
  let flown = fly(arc, Math.sinh(q));
  for (let turn = 0; turn < turns; turn++) {
    const above = flown.rise - rise;
    if (above > 0) high = q;
    else low = q;
    const { slope } = flown;
    const step =
      (above * arc.gravity * flown.inverseSquare) / (slope * Math.sqrt(1 + slope * slope));
    const next = q + step >= low && q + step <= high ? q + step : (low + high) / 2;
    if (Math.abs(next - q) <= 4e-16 * (1 + Math.abs(q))) break;
    q = next;
    flown = fly(arc, Math.sinh(q));
  }
  return flown;
}

/**
 * The launch at a slope with whatever speed passes the aim, or null where that is more than
 * `fastest`. The height at the aim falls with 1/v² (in a vacuum linearly); Newton from the vacuum's
 * answer, which is too slow, is kept between it and the fastest.
 */
export function launchAtSlope(air: Air, aim: Aim, slope: number, fastest: number): Launch | null {
  const { distance, rise } = aim;
  let fast = 1 / (fastest * fastest);
  let slow =
    (2 * (slope * distance - rise)) / (air.gravity * distance * distance * (1 + slope * slope));
  if (!(slow >= fast) || !reaches(arcOf(air, fast, slope), aim)) return null;
  let inverse = slow;
  for (let turn = 0; turn < turns; turn++) {
    const arc = arcOf(air, inverse, slope);
    const flown = flyOut(arc, distance);
    let next = Number.NaN;
    if (flown === null) slow = inverse;
    else {
      const short = rise - flown.rise;
      next = inverse - short / fallPerInverseSquare(arc, flown);
      const hit = Math.abs(short) <= exactness * distance * (1 + Math.abs(flown.slope));
      if (hit || next === inverse) return { arc, flown };
      if (short > 0) slow = inverse;
      else fast = inverse;
    }
    inverse = next >= fast && next <= slow ? next : (fast + slow) / 2;
  }
  return null;
}

/** The flight until a distance along the ground; null where drag lets the ball fall short of it. */
function flyOut(arc: Arc, distance: number): Flown | null {
  let arrival = arc.slope - arc.gravity * distance * arc.launch;
  for (let turn = 0; turn < turns; turn++) {
    const flown = fly(arc, arrival);
    const further = distance - flown.distance;
    const next = Math.min(slopeFurther(arc, flown, further), arc.slope);
    if (Math.abs(further) <= exactness * distance || next === arrival) return flown;
    if (!(next > steepest)) return null;
    arrival = next;
  }
  return null;
}

/** Does the ball pass the aim's distance at its height or above? */
function reaches(arc: Arc, aim: Aim): boolean {
  const flown = flyOut(arc, aim.distance);
  return flown !== null && flown.rise >= aim.rise;
}

/**
 * How far a ball of this speed can go at a height over its release, along the ground; 0 where it
 * cannot get so high. The distance is flat about its best angle, so 26 halvings of the angle give it
 * to rounding.
 */
export function farthest(air: Air, rise: number, speed: number): number {
  let low = 0;
  let high = Math.PI / 2;
  let best = 0;
  for (let turn = 0; turn < 26; turn++) {
    const angle = (low + high) / 2;
    const arc = arcOf(air, 1 / (speed * speed), Math.tan(angle));
    const flown = flyDownTo(arc, rise);
    if (flown !== null) best = Math.max(best, flown.distance);
    if (flown === null || risePerSlope(arc, flown) > 0) low = angle;
    else high = angle;
  }
  return best;
}
