import { add, type Point } from './geometry.ts';
import type { Player, Route } from './play.ts';

/** Where a route goes, absolute, from where its player stands at the snap. */
export function routePoints(player: Pick<Player, 'at'>, route: Route): Point[] {
  return [player.at, ...[...route.stem, ...route.finish].map((offset) => add(player.at, offset))];
}

/** Where the stem ends, absolute. */
export function breakPoint(player: Pick<Player, 'at'>, route: Route): Point {
  return add(player.at, route.stem.at(-1) ?? [0, 0]);
}

/** How far upfield of his alignment a route breaks, yards. `breakPoint` tells it from the line. */
export const breakDepth = (route: Route): number => route.stem.at(-1)?.[1] ?? 0;

/** The sign of x that leads toward the ball from here; a man on the ball's line goes right to be inside. */
export const insideSign = (x: number, ballX: number): 1 | -1 => (x > ballX ? -1 : 1);

/** How far from a corner a rounded route begins to bend, and ends; as it is drawn and as it is run. Yards. */
export const roundedRadius = 1.6;
