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

/**
 * How deep a route breaks: yards past the line of scrimmage, as depth is taught (common practice, no
 * single source); below zero behind it. `player` stands where he is at the snap.
 */
export const breakDepth = (player: Pick<Player, 'at'>, route: Route): number =>
  breakPoint(player, route)[1];

/** The sign of x that leads toward the ball from here; a man on the ball's line goes right to be inside. */
export const insideSign = (x: number, ballX: number): 1 | -1 => (x > ballX ? -1 : 1);

/** How far from a corner a rounded route begins to bend, and ends; as it is drawn and as it is run. Yards. */
export const roundedRadius = 1.6;
