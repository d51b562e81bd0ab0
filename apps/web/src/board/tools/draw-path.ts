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
  /** It was moved there by keys and not put down yet: whoever ends the line means it to be the end. */
  isSteered: boolean;
  guides: readonly SnapLine[];
}

export function beginPath(play: Play, player: PlayerId, what: PathKind): DrawPath | null {
  const start = startOf(play, player, what);
  const nothing = { points: [], next: null, isSteered: false, guides: [] };
  return start && { kind: 'drawPath', what, player, start, ...nothing };
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
  return { ...path, next: bounded(path, at), isSteered: false, guides };
}

/** Puts the point down where the hand is. */
export const dropPoint = (path: DrawPath): DrawPath =>
  path.next ? { ...path, points: [...path.points, path.next], isSteered: false, guides: [] } : path;

/** The line as whoever ends it by keys means it. */
export const withLastPoint = (path: DrawPath): DrawPath =>
  path.isSteered || path.points.length === 0 ? dropPoint(path) : path;

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
  const next = bounded(path, [round(x + dx), round(y + dy)]);
  return { ...path, next, isSteered: true, guides: [] };
}
