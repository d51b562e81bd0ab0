import { add, type Point, scale } from '../geometry.ts';
import type { Sprint } from '../movement.ts';
import { type Costs, usualCosts } from './costs.ts';
import type { Run } from './run.ts';
import { cornerSpeeds, type Straight, stretchesOf, stridesOf } from './stretch.ts';
import { advance, type Stride, secondsTo, speedIn } from './stride.ts';

/** A run with its clock: where he is at any time, and when he is anywhere on his way. */
export interface TimedPath {
  readonly from: Point;
  /** In order of time; each goes on until the next begins, the last until he arrives. */
  readonly phases: readonly Phase[];
  readonly straights: readonly Straight[];
  /** One for each leg of the run. */
  readonly marks: readonly Mark[];
  /** Yards from start to end. */
  readonly length: number;
  /** When he is at the end, s. */
  readonly arrives: number;
}

/** A stride with its place in the run. */
export interface Phase {
  readonly stride: Stride;
  /** When it begins, s. */
  readonly time: number;
  /** Where on the path it begins, yd. */
  readonly along: number;
  /** Index of the straight it lies on. */
  readonly straight: number;
}

/** The end of a leg. */
export interface Mark {
  readonly at: Point;
  /** Where on the path, yd. */
  readonly along: number;
  /** Seconds; he leaves when his hesitation there is over. */
  readonly arrives: number;
  readonly leaves: number;
  /** The speed he goes on with, yd/s; at the end of the run, the one he has. */
  readonly speed: number;
}

const stand: Stride = { kind: 'stand', speed: 0 };

/**
 * Puts the clock to a run. Between corners he accelerates by the sprint model from the speed he has;
 * for a corner he brakes steadily to the share of speed that its angle leaves him, as late as he
 * can. Every stride has a closed form; only the moment at which he begins to brake is found by
 * iteration. The share is of the speed with which he would have come with nothing behind the corner;
 * where corners follow so closely that he cannot brake between them he slows down earlier. A
 * hesitation costs exactly its seconds: he is shown standing and goes on with the speed he had.
 *
 * Any run that `runSchema` takes gives finite times, for a runner that `runnerSchema` takes.
 */
export function timedPath(runner: Sprint, run: Run, costs: Costs = usualCosts): TimedPath {
  const braking = (costs.braking * runner.maxSpeed) / runner.tau;
  const straights = stretchesOf(runner, run, costs);
  const speeds = cornerSpeeds(run, straights, runner.tau, braking);
  const phases: Phase[] = [];
  const marks: Mark[] = [];
  let time = 0;
  let along = 0;
  let straight = 0;
  const wait = (seconds: number): void => {
    if (seconds > 0)
      phases.push({ stride: stand, time, along, straight: Math.max(0, straight - 1) });
    time += seconds;
  };
  wait(run.start.kind === 'still' ? run.start.delay : 0);
  for (const [leg, { to, hesitate }] of run.legs.entries()) {
    const stretch = straights[straight];
    if (stretch?.leg === leg) {
      const enters = speeds[straight] as number;
      const leaves = speeds[straight + 1] as number;
      for (const taken of stridesOf(stretch, runner.tau, braking, enters, leaves)) {
        phases.push({ stride: taken.stride, time, along, straight });
        time += taken.seconds;
        along += taken.yards;
      }
      along = stretch.along + stretch.length;
      straight++;
    }
    const arrives = time;
    wait(hesitate);
    marks.push({ at: to, along, arrives, leaves: time, speed: speeds[straight] as number });
  }
  return {
    from: run.from,
    phases,
    straights,
    marks,
    length: along,
    arrives: marks.at(-1)?.arrives ?? 0,
  };
}

/** The phase at a time, or null before the first and where there is none. */
function phaseAt(path: TimedPath, time: number): Phase | null {
  let low = 0;
  let high = path.phases.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((path.phases[middle] as Phase).time <= time) low = middle + 1;
    else high = middle;
  }
  return path.phases[low - 1] ?? null;
}

/** How far along his path he is, yd: 0 before time 0, its length after he has arrived. */
export function alongAt(path: TimedPath, time: number): number {
  if (time >= path.arrives) return path.length;
  const phase = phaseAt(path, time);
  return phase ? Math.min(path.length, phase.along + advance(phase.stride, time - phase.time)) : 0;
}

/** Where he is. After his path has ended he is shown at its end. */
export function positionAt(path: TimedPath, time: number): Point {
  if (time >= path.arrives) return path.marks.at(-1)?.at ?? path.from;
  const phase = phaseAt(path, time);
  const straight = phase && path.straights[phase.straight];
  if (!phase || !straight) return path.from;
  const off = phase.along - straight.along + advance(phase.stride, time - phase.time);
  return add(straight.from, scale(straight.direction, Math.min(off, straight.length)));
}

/** His speed, yd/s; 0 while he hesitates, before his first movement and after he has arrived. */
export function speedAt(path: TimedPath, time: number): number {
  if (time >= path.arrives) return 0;
  const phase = phaseAt(path, time);
  return phase ? speedIn(phase.stride, time - phase.time) : 0;
}

/** When he first is so many yards along his path; null beyond its end. Seconds. */
export function timeAt(path: TimedPath, along: number): number | null {
  if (along <= 0) return 0;
  if (along > path.length) return null;
  let low = 0;
  let high = path.phases.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((path.phases[middle] as Phase).along < along) low = middle + 1;
    else high = middle;
  }
  const phase = path.phases[low - 1];
  if (!phase) return null;
  const until = path.phases[low]?.time ?? path.arrives;
  return Math.min(until, phase.time + secondsTo(phase.stride, along - phase.along));
}
