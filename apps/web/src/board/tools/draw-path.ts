import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Edit } from './edit.ts';
import { motionThrough, type PathKind, routeThrough, startOf, withoutDoubles } from './path.ts';
import { linesForPath, type SnapLine, snap } from './snap.ts';

/** A line being put down point by point. */
export interface DrawPath {
  kind: 'drawPath';
  what: PathKind;
  player: PlayerId;
  start: Point;
  points: readonly Point[];
  /** Where the next point would come; null before the hand has moved. */
  next: Point | null;
  guides: readonly SnapLine[];
}

export function beginPath(play: Play, player: PlayerId, what: PathKind): DrawPath | null {
  const start = startOf(play, player, what);
  return start && { kind: 'drawPath', what, player, start, points: [], next: null, guides: [] };
}

const bounded = (path: DrawPath, at: Point): Point =>
  path.what === 'motion' ? [at[0], Math.min(-0.5, at[1])] : at;

export function hoverPath(
  path: DrawPath,
  play: Play,
  hand: Point,
  { reach, free }: { reach: number; free: boolean },
): DrawPath {
  const lines = free ? [] : linesForPath(play, path.points.at(-1) ?? path.start);
  const { at, guides } = snap(bounded(path, hand), lines, reach);
  return { ...path, next: bounded(path, at), guides };
}

/** Puts the point down where the hand is. */
export const dropPoint = (path: DrawPath): DrawPath =>
  path.next ? { ...path, points: [...path.points, path.next], guides: [] } : path;

/** Takes the last point up again. */
export const liftPoint = (path: DrawPath): DrawPath => ({
  ...path,
  points: path.points.slice(0, -1),
});

/** What the line writes; null when no point was put down. */
export function endPath(path: DrawPath, play: Play): Edit | null {
  const points = withoutDoubles(path.start, path.points);
  if (points.length === 0) return null;
  const { player } = path;
  return path.what === 'route'
    ? {
        do: 'setRoute',
        player,
        route: routeThrough(path.start, points, play.routes[player]),
      }
    : {
        do: 'setMotion',
        player,
        motion: motionThrough(path.start, points, play.motions[player]),
      };
}

/** Moves the pencil by keys: from where it is, or from the last point. */
export function steerPath(path: DrawPath, [dx, dy]: Point): DrawPath {
  const [x, y] = path.next ?? path.points.at(-1) ?? path.start;
  const round = (yards: number): number => Math.round(yards * 100) / 100 + 0;
  return { ...path, next: bounded(path, [round(x + dx), round(y + dy)]), guides: [] };
}
