import type { Point } from '../geometry.ts';
import type { Player, Route } from '../play.ts';
import { routePoints } from '../route.ts';
import { settles } from '../route-end.ts';
import type { Gait } from './costs.ts';
import type { Leg, Run } from './run.ts';

const leg = (to: Point, gait: Gait): Leg => ({ to, gait, hesitate: 0 });

/**
 * A receiver on his route from the snap. `delay` (s) is the time to his first movement; the
 * hesitation of his release comes on top. Who settles stops where the route ends. Leg i ends
 * at point i + 1 of `routePoints`; the break is the end of leg `stem.length − 1`.
 */
export function routeRun(player: Pick<Player, 'at'>, route: Route, delay: number): Run {
  const [from, ...rest] = routePoints(player, route);
  return {
    from: from ?? player.at,
    start: { kind: 'still', delay: delay + route.release.hesitate },
    legs: rest.map((to) => leg(to, 'sprint')),
    finish: settles(route) ? 'stop' : 'through',
  };
}

/** A defender who breaks on what he sees: stands `delay` seconds, then runs straight through a point. */
export const breakRun = (from: Point, to: Point, delay: number): Run => ({
  from,
  start: { kind: 'still', delay },
  legs: [leg(to, 'sprint')],
  finish: 'through',
});

/** A defensive back who backpedals, opens his hips (or plants, where he comes back) and runs through a point. */
export const pedalRun = (from: Point, pedalTo: Point, to: Point, delay: number): Run => ({
  from,
  start: { kind: 'still', delay },
  legs: [leg(pedalTo, 'backpedal'), leg(to, 'sprint')],
  finish: 'through',
});

/** A linebacker or a back who slides to a spot with his shoulders square, and settles there. */
export const shuffleRun = (from: Point, to: Point, delay: number): Run => ({
  from,
  start: { kind: 'still', delay },
  legs: [leg(to, 'shuffle')],
  finish: 'stop',
});
