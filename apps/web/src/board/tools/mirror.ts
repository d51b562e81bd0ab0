import { ballX } from '@stemline/football/field';
import type { Offset } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';

const flip = ([x, y]: Offset): Offset => [0 - x, y];

/** The play seen in a mirror through the ball: spots, routes and motions; who reads what stays. */
export function mirrored<P extends Play>(play: P): P {
  const axis = 2 * ballX(play.situation);
  const spot = (player: Player): Player => ({
    ...player,
    at: [Math.round((axis - player.at[0]) * 100) / 100 + 0, player.at[1]],
  });
  const each = <Value>(values: Readonly<Record<string, Value>>, change: (value: Value) => Value) =>
    Object.fromEntries(Object.entries(values).map(([id, value]) => [id, change(value)]));
  return {
    ...play,
    players: play.players.map(spot),
    routes: each(play.routes, (route) => ({
      ...route,
      stem: route.stem.map(flip),
      finish: route.finish.map(flip),
    })),
    motions: each(play.motions, (motion) => ({ ...motion, path: motion.path.map(flip) })),
  };
}
