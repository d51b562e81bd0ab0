import { add, distance, type Offset, type Point, subtract } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Play, Route } from '@stemline/football/play';
import { settles } from '@stemline/football/route-end';
import { atSnap } from '@stemline/football/snap';

/** The two lines a player can have on the board. */
export type PathKind = 'route' | 'motion';

const tidy = ([x, y]: Offset): Offset => [
  Math.round(x * 100) / 100 + 0,
  Math.round(y * 100) / 100 + 0,
];

/** Where his line begins: a route where motion has taken him, motion where he first stands. */
export function startOf(play: Play, player: PlayerId, what: PathKind): Point | null {
  const men = what === 'route' ? atSnap(play) : play.players;
  return men.find(({ id }) => id === player)?.at ?? null;
}

/** The points of his line after its beginning, absolute; empty when he has none. */
export function pathOf(play: Play, player: PlayerId, what: PathKind): Point[] {
  const start = startOf(play, player, what);
  if (!start) return [];
  const route = play.routes[player];
  const offsets =
    what === 'motion'
      ? (play.motions[player]?.path ?? [])
      : route
        ? [...route.stem, ...route.finish]
        : [];
  return offsets.map((offset) => add(start, offset));
}

/** Points closer than this to the one before are one click too many. Yards. */
const tooClose = 0.3;

export const withoutDoubles = (start: Point, points: readonly Point[]): Point[] =>
  points.filter((point, i) => distance(point, points[i - 1] ?? start) >= tooClose);

const plainRoute = { release: { side: 'free', hesitate: 0 }, shape: 'sharp', name: '' } as const;

/**
 * A route through absolute points. `stem` says how many of them lead to the break; a new route
 * breaks at its last corner, and one of a single stretch runs on.
 */
export function routeThrough(
  start: Point,
  points: readonly Point[],
  old: Route | undefined,
  stem?: number,
): Route {
  const offsets = points.map((point) => tidy(subtract(point, start)));
  const breaksAfter = Math.min(offsets.length, Math.max(1, stem ?? offsets.length - 1));
  return {
    ...(old ?? plainRoute),
    stem: offsets.slice(0, breaksAfter),
    finish: offsets.slice(breaksAfter),
  };
}

export function motionThrough(
  start: Point,
  points: readonly Point[],
  old: Motion | undefined,
): Motion {
  return {
    atSnap: old?.atSnap ?? 'moving',
    path: points.map((point) => tidy(subtract(point, start))),
  };
}

/** Whether he runs on at the end of his route, or stops there. */
export function endingOf(route: Route): 'on' | 'settle' {
  return settles(route) ? 'settle' : 'on';
}

/**
 * The same line, ended the other way. All stem with a corner in it is how a stop is written, so a
 * route of one stretch gets one half-way. What turns back at its end, or is called a stop, stays one.
 */
export function withEnding(route: Route, ending: 'on' | 'settle'): Route {
  const all = [...route.stem, ...route.finish];
  const last = all.at(-1);
  if (!last || endingOf(route) === ending) return route;
  if (ending === 'settle') {
    const half = tidy([last[0] / 2, last[1] / 2]);
    return { ...route, stem: all.length > 1 ? all : [half, last], finish: [] };
  }
  if (route.finish.length > 0) return route;
  return isOneStretch(all)
    ? { ...route, stem: [last] }
    : { ...route, stem: all.slice(0, -1), finish: [last] };
}

/** No point off the line from its beginning to its end by more than tidying makes. */
function isOneStretch(offsets: readonly Offset[]): boolean {
  const [x, y] = offsets.at(-1) ?? [0, 0];
  const length = distance([0, 0], [x, y]);
  return offsets.every(([px, py]) => Math.abs(px * y - py * x) <= 0.02 * length);
}
