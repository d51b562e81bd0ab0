import { distance, type Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Handle } from './bend-path.ts';

/** Smallest target of a finger, CSS pixels; half of it is how far off a press may land. */
export const fingerPx = 44;
/** A mouse is finer. */
export const mousePx = 24;

/**
 * The player nearest to a press within reach. Targets are judged by nearness, not by shapes:
 * linemen stand closer than a finger is wide.
 */
export function playerAt(play: Play, at: Point, reach: number): PlayerId | null {
  let best: PlayerId | null = null;
  let least = reach;
  for (const player of play.players) {
    const off = distance(player.at, at);
    if (off <= least) {
      least = off;
      best = player.id;
    }
  }
  return best;
}

/** The handle nearest to a press within reach; a point goes before the middle of a stretch. */
export function handleAt(handles: readonly Handle[], at: Point, reach: number): Handle | null {
  let best: Handle | null = null;
  let least = reach;
  for (const handle of handles) {
    const off = distance(handle.at, at) + (handle.kind === 'middle' ? reach * 0.3 : 0);
    if (off <= least) {
      least = off;
      best = handle;
    }
  }
  return best;
}

/** Distance from a spot to a line through points, yards. */
export function distanceToLine(at: Point, points: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 1 < points.length; i++) {
    const a = points[i] as Point;
    const b = points[i + 1] as Point;
    const along: Point = [b[0] - a[0], b[1] - a[1]];
    const length = along[0] ** 2 + along[1] ** 2;
    const t = length === 0 ? 0 : ((at[0] - a[0]) * along[0] + (at[1] - a[1]) * along[1]) / length;
    const k = Math.min(1, Math.max(0, t));
    least = Math.min(least, distance(at, [a[0] + along[0] * k, a[1] + along[1] * k]));
  }
  return least;
}
