import { type Point, pathLength } from './geometry.ts';
import type { Route } from './play.ts';
import { degrees } from './units.ts';

/** A finish as short as this is a turn on the spot. Yards. */
const onTheSpot = 3;
/** Who turns back by more than this comes back to the ball and stops there. Degrees off upfield. */
const comesBack = 115;
/** Routes that stop where they end, by the last word of their names: a hitch and go runs on. */
const stops = /\b(hitch|curl|comeback|hook|sit|stop)$/i;

/** Whether a man stops at the end of what he runs on from his break. */
export function stopsAfterBreak(breaksAt: Point, finish: readonly Point[]): boolean {
  const last = finish.at(-1);
  if (!last) return true;
  const before = finish.at(-2) ?? breaksAt;
  return pathLength([breaksAt, ...finish]) <= onTheSpot || offUpfield(before, last) > comesBack;
}

/**
 * Whether he stops on purpose where his route ends. A line of one stretch runs on, as a go or a seam
 * does, unless it is called a route that stops; one that is all stem and was given a corner stops.
 */
export function settles({ stem, finish, name }: Route): boolean {
  if (finish.length > 0) return stopsAfterBreak(stem.at(-1) ?? [0, 0], finish);
  return stem.length > 1 || stops.test(name);
}

/** Degrees off straight upfield, 0 to 180. */
const offUpfield = (from: Point, to: Point): number =>
  degrees(Math.atan2(Math.abs(to[0] - from[0]), to[1] - from[1]));
