import { distance, type Point, scale, subtract } from '../geometry.ts';
import type { Sprint } from '../movement.ts';
import { degrees } from '../units.ts';
import { type Costs, keeps, shareOf } from './costs.ts';
import type { Run } from './run.ts';
import { advance, type Stride, secondsTo, speedIn } from './stride.ts';

/** One straight of a path. */
export interface Straight {
  readonly from: Point;
  /** Of length 1. */
  readonly direction: Point;
  /** Where on the path it begins, and its own length; yards. */
  readonly along: number;
  readonly length: number;
}

/** A straight with what is to be done on it. */
export interface Stretch extends Straight {
  /** V of its gait, yd/s. */
  readonly limit: number;
  /** Seconds at its start in which he does not push. */
  readonly coast: number;
  /** Share of his speed that the corner before it leaves him. */
  readonly keeps: number;
  /** Index of its leg; a leg without length has no stretch. */
  readonly leg: number;
}

/** Legs shorter than this, yd, go nowhere. */
const shortest = 1e-9;

export function stretchesOf(runner: Sprint, run: Run, costs: Costs): Stretch[] {
  const stretches: Stretch[] = [];
  let from = run.from;
  let along = 0;
  for (const [leg, { to, gait }] of run.legs.entries()) {
    const length = distance(from, to);
    if (length < shortest) continue;
    const direction = scale(subtract(to, from), 1 / length);
    const last = stretches.at(-1);
    const angle = last ? angleBetween(last.direction, direction) : 0;
    const opens = last && run.legs[last.leg]?.gait === 'backpedal' && gait === 'sprint';
    stretches.push({
      from,
      direction,
      along,
      length,
      limit: runner.maxSpeed * shareOf(costs, gait),
      // Who breaks back the way he faces plants and goes: he has no hips to turn.
      coast: opens && angle < 90 ? costs.hipTurn : 0,
      keeps: keeps(costs, angle),
      leg,
    });
    from = to;
    along += length;
  }
  return stretches;
}

const angleBetween = (a: Point, b: Point): number =>
  degrees(Math.abs(Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])));

const coasted = ({ length, coast }: Stretch, speed: number): number =>
  Math.min(length, speed * coast);

/**
 * The speed, yd/s, at which he enters each stretch, and at last the one at which he ends. Forward,
 * what each corner leaves him; then backward, what he can brake.
 */
export function cornerSpeeds(
  run: Run,
  stretches: readonly Stretch[],
  tau: number,
  braking: number,
): number[] {
  const [first] = stretches;
  if (!first) return [0];
  const speeds = [run.start.kind === 'moving' ? Math.min(run.start.speed, first.limit) : 0];
  for (const [i, stretch] of stretches.entries()) {
    const speed = speeds[i] as number;
    const push: Stride = { kind: 'push', speed, limit: stretch.limit, tau };
    const comes = speedIn(push, secondsTo(push, stretch.length - coasted(stretch, speed)));
    const after = stretches[i + 1];
    const leaves = after ? Math.min(after.keeps * comes, after.limit) : comes;
    speeds.push(!after && run.finish === 'stop' ? 0 : leaves);
  }
  for (let i = stretches.length - 1; i > 0; i--) {
    const { length, coast } = stretches[i] as Stretch;
    const drift = braking * coast;
    const leaves = speeds[i + 1] as number;
    const most = Math.sqrt(drift * drift + leaves * leaves + 2 * braking * length) - drift;
    speeds[i] = Math.min(speeds[i] as number, most);
  }
  return speeds;
}

/** A stride with how long and how far it goes. */
export interface Taken {
  readonly stride: Stride;
  readonly seconds: number;
  readonly yards: number;
}

/**
 * What he does on one stretch: coasts, pushes, brakes. Who is under way too fast for his first
 * corner brakes as hard as that takes.
 */
export function stridesOf(
  stretch: Stretch,
  tau: number,
  braking: number,
  enters: number,
  leaves: number,
): Taken[] {
  const taken: Taken[] = [];
  const drift = coasted(stretch, enters);
  if (drift > 0)
    taken.push({
      stride: { kind: 'coast', speed: enters },
      seconds: drift / enters,
      yards: drift,
    });
  const rest = stretch.length - drift;
  if (rest <= 0) return taken;
  const push = { kind: 'push', speed: enters, limit: stretch.limit, tau } as const;
  const seconds = secondsTo(push, rest);
  if (leaves >= speedIn(push, seconds)) return [...taken, { stride: push, seconds, yards: rest }];
  const until = pushesFor(push, rest, seconds, leaves, braking);
  const pushed = advance(push, until);
  if (until > 0) taken.push({ stride: push, seconds: until, yards: pushed });
  const speed = speedIn(push, until);
  const left = rest - pushed;
  if (speed > leaves && left > 0) {
    const rate = until > 0 ? braking : (speed * speed - leaves * leaves) / (2 * left);
    taken.push({
      stride: { kind: 'brake', speed, rate },
      seconds: (speed - leaves) / rate,
      yards: left,
    });
  }
  return taken;
}

/**
 * For how long he may push and still brake to the speed at which he leaves: where what he has run
 * and what he needs to brake make up the distance. Both grow, so there is one such time in
 * [0, seconds]; Newton, halving where a step would leave the bracket.
 */
function pushesFor(
  push: Extract<Stride, { kind: 'push' }>,
  yards: number,
  seconds: number,
  leaves: number,
  braking: number,
): number {
  const over = (t: number): number => {
    const speed = speedIn(push, t);
    return advance(push, t) + (speed * speed - leaves * leaves) / (2 * braking) - yards;
  };
  if (over(0) >= 0) return 0;
  let low = 0;
  let high = seconds;
  let t = seconds;
  for (let turn = 0; turn < 60; turn++) {
    const miss = over(t);
    if (miss > 0) high = t;
    else low = t;
    const speed = speedIn(push, t);
    const slope = speed * (1 + (push.limit - speed) / (push.tau * braking));
    const newton = t - miss / slope;
    const next = newton >= low && newton <= high ? newton : (low + high) / 2;
    if (Math.abs(next - t) <= 1e-14 * seconds) return next;
    t = next;
  }
  return t;
}
