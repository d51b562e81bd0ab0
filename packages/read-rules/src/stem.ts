import { add, distance, type Point, scale, subtract } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';

/** His stem as drawn, absolute, from where he stands at the snap; straight up when none is drawn. */
function drawnStem(play: Play, player: Player): readonly Point[] {
  return [
    player.at,
    ...(play.routes[player.id]?.stem ?? []).map((offset) => add(player.at, offset)),
  ];
}

/**
 * The stem up to where it first reaches `depth` past the line; a stem that ends short of it goes on
 * straight up. At least one point, the last at that depth or, for a man already past it, where he stands.
 */
export function stemTo(play: Play, player: Player, depth: number): readonly [Point, ...Point[]] {
  const path: [Point, ...Point[]] = [player.at];
  let from = player.at;
  if (from[1] >= depth) return path;
  for (const to of drawnStem(play, player).slice(1)) {
    if (to[1] >= depth) {
      path.push(add(from, scale(subtract(to, from), (depth - from[1]) / (to[1] - from[1]))));
      return path;
    }
    if (distance(from, to) > 0) path.push(to);
    from = to;
  }
  path.push([from[0], depth]);
  return path;
}

/** How deep past the line his drawn stem ends; null when none is drawn. */
export function stemDepth(play: Play, player: Player): number | null {
  const last = play.routes[player.id]?.stem.at(-1);
  return last ? player.at[1] + last[1] : null;
}
