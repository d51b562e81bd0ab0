import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Edit } from './edit.ts';
import { motionThrough, type PathKind, pathOf, routeThrough, startOf } from './path.ts';
import { linesForPath, type SnapLine, snap } from './snap.ts';

/** One point of a line under the hand. `added`: it was made by pulling the line between two points. */
export interface BendPath {
  kind: 'bendPath';
  what: PathKind;
  player: PlayerId;
  start: Point;
  points: readonly Point[];
  index: number;
  added: boolean;
  moved: boolean;
  guides: readonly SnapLine[];
}

/** A place to take hold of a line. */
export type Handle =
  | { kind: 'point'; what: PathKind; player: PlayerId; index: number; at: Point; isBreak: boolean }
  /** Half-way along a stretch; `index` is what a point made here would get. */
  | { kind: 'middle'; what: PathKind; player: PlayerId; index: number; at: Point };

/** Handles of one player's line, points first. */
export function handlesOf(play: Play, player: PlayerId, what: PathKind): Handle[] {
  const start = startOf(play, player, what);
  const points = pathOf(play, player, what);
  if (!start) return [];
  const stem = what === 'route' ? play.routes[player]?.stem.length : undefined;
  const ends = points.map(
    (at, index): Handle => ({
      kind: 'point',
      what,
      player,
      index,
      at,
      isBreak: index + 1 === stem && index + 1 < points.length,
    }),
  );
  const middles = points.map((at, index): Handle => {
    const before = points[index - 1] ?? start;
    return {
      kind: 'middle',
      what,
      player,
      index,
      at: [(before[0] + at[0]) / 2, (before[1] + at[1]) / 2],
    };
  });
  return [...ends, ...middles];
}

export function beginBend(play: Play, handle: Handle): BendPath | null {
  const { what, player, index } = handle;
  const start = startOf(play, player, what);
  if (!start) return null;
  const points = pathOf(play, player, what);
  const added = handle.kind === 'middle';
  if (added) points.splice(index, 0, handle.at);
  return { kind: 'bendPath', what, player, start, points, index, added, moved: false, guides: [] };
}

export function moveBend(
  bend: BendPath,
  play: Play,
  hand: Point,
  { reach, free }: { reach: number; free: boolean },
): BendPath {
  const lines = free ? [] : linesForPath(play, bend.points[bend.index - 1] ?? bend.start);
  const wanted: Point = bend.what === 'motion' ? [hand[0], Math.min(-0.5, hand[1])] : hand;
  const { at, guides } = snap(wanted, lines, reach);
  const points = bend.points.map((point, i) => (i === bend.index ? at : point));
  return { ...bend, points, moved: true, guides };
}

/** How many points lead to the break once a point came in at `index`, or went from there. */
function stemAfter(stem: number, index: number, change: 1 | -1 | 0): number {
  if (change === 0) return stem;
  return index < stem ? stem + change : stem;
}

function written(
  play: Play,
  bend: Pick<BendPath, 'what' | 'player' | 'start'>,
  points: readonly Point[],
  stem: number | undefined,
): Edit {
  const { player, start } = bend;
  return bend.what === 'route'
    ? { do: 'setRoute', player, route: routeThrough(start, points, play.routes[player], stem) }
    : { do: 'setMotion', player, motion: motionThrough(start, points, play.motions[player]) };
}

export function endBend(bend: BendPath, play: Play): Edit | null {
  if (!bend.moved) return null;
  const stem = play.routes[bend.player]?.stem.length;
  const after = stem === undefined ? undefined : stemAfter(stem, bend.index, bend.added ? 1 : 0);
  return written(play, bend, bend.points, after);
}

/** Takes one point out; the last one takes the line with it. */
export function removePoint(play: Play, handle: Handle): Edit | null {
  const { player, what, index } = handle;
  const start = startOf(play, player, what);
  if (!start || handle.kind !== 'point') return null;
  const points = pathOf(play, player, what).filter((_, i) => i !== index);
  if (points.length === 0) return { do: what === 'route' ? 'clearRoute' : 'clearMotion', player };
  const route = play.routes[player];
  const after = route && stemAfter(route.stem.length, index, -1);
  // Who loses all that he ran after his break breaks at the corner before.
  const isStemOnly = route && route.finish.length > 0 && after === points.length;
  return written(play, { what, player, start }, points, isStemOnly ? undefined : after);
}

/** Makes this point the one he breaks at. */
export function breakHere(play: Play, handle: Handle): Edit | null {
  const { player, index } = handle;
  const start = startOf(play, player, 'route');
  if (!start || handle.kind !== 'point' || handle.what !== 'route') return null;
  return written(play, { what: 'route', player, start }, pathOf(play, player, 'route'), index + 1);
}

/** The play as it would be if the hand let go now. */
export function bentPlay<P extends Play>(play: P, edit: Edit | null): P {
  if (edit?.do === 'setRoute') {
    return { ...play, routes: { ...play.routes, [edit.player]: edit.route } };
  }
  if (edit?.do === 'setMotion') {
    return { ...play, motions: { ...play.motions, [edit.player]: edit.motion } };
  }
  return play;
}
