import { ballX } from '@stemline/football/field';
import type { Offset } from '@stemline/football/geometry';
import type { Play } from '@stemline/football/play';
import type { Edit } from './edit.ts';

const flip = ([x, y]: Offset): Offset => [0 - x, y];

/**
 * The play seen in a mirror through the ball: spots, routes and motions. Read cards speak of inside
 * and outside and stay as they are.
 */
export function mirrorEdits(play: Play): Edit[] {
  const axis = 2 * ballX(play.situation);
  const moves = play.players.map(({ id, at }) => ({
    player: id,
    at: [Math.round((axis - at[0]) * 100) / 100 + 0, at[1]] as const,
  }));
  return [
    { do: 'movePlayers', moves },
    ...play.players.flatMap(({ id }): Edit[] => {
      const route = play.routes[id];
      const motion = play.motions[id];
      return [
        ...(route
          ? [
              {
                do: 'setRoute',
                player: id,
                route: { ...route, stem: route.stem.map(flip), finish: route.finish.map(flip) },
              } as const,
            ]
          : []),
        ...(motion
          ? [
              {
                do: 'setMotion',
                player: id,
                motion: { ...motion, path: motion.path.map(flip) },
              } as const,
            ]
          : []),
      ];
    }),
  ];
}
