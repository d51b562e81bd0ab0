import type { Point } from './geometry.ts';
import type { Motion, Play, Route, Spot } from './play.ts';

const otherSpot: Readonly<Record<Spot, Spot>> = { left: 'right', middle: 'middle', right: 'left' };

/** -0 becomes 0. */
const mirrorPoint = ([x, y]: Point): Point => [-x + 0, y];

const mirrorRoute = (route: Route): Route => ({
  ...route,
  stem: route.stem.map(mirrorPoint),
  finish: route.finish.map(mirrorPoint),
});

const mirrorMotion = (motion: Motion): Motion => ({
  ...motion,
  path: motion.path.map(mirrorPoint),
});

/** The same play run to the other side, from the other hash. */
export function mirrorPlay<P extends Play>(play: P): P {
  return {
    ...play,
    situation: { ...play.situation, spot: otherSpot[play.situation.spot] },
    players: play.players.map((player) => ({ ...player, at: mirrorPoint(player.at) })),
    routes: mapValues(play.routes, mirrorRoute),
    motions: mapValues(play.motions, mirrorMotion),
  };
}

const mapValues = <K extends string, V>(
  record: Readonly<Partial<Record<K, V>>>,
  change: (value: V) => V,
): Record<K, V> =>
  Object.fromEntries(
    Object.entries<V | undefined>(record).flatMap(([key, value]) =>
      value === undefined ? [] : [[key, change(value)]],
    ),
  ) as Record<K, V>;
