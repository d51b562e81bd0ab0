import { ballX } from './field.ts';
import { add, distance, type Point } from './geometry.ts';
import { type Formation, perFormation } from './per-formation.ts';
import type { Player } from './play.ts';

/** Where the ball lies. */
export const ballAt = ({ situation }: Pick<Formation, 'situation'>): Point => [ballX(situation), 0];

/** The players where they stand, or pass, as the ball is snapped: motions have been run. */
export const atSnap = perFormation(({ players, motions }): readonly Player[] =>
  Object.keys(motions).length === 0
    ? players
    : players.map((player) => {
        const last = motions[player.id]?.path.at(-1);
        return last ? { ...player, at: add(player.at, last) } : player;
      }),
);

/** The one who snaps the ball: the centre nearest to it, or null where none is drawn. */
export function snapper(players: readonly Player[], ball: Point): Player | null {
  return nearestTo(
    ball,
    players.filter((player) => player.position === 'C'),
  );
}

/**
 * The one who takes the snap: the nearest quarterback behind the ball, else the nearest other
 * back straight behind it (a direct snap), else null.
 */
export function passer(players: readonly Player[], ball: Point): Player | null {
  const behind = players.filter(
    ({ position, at }) =>
      (position === 'QB' || position === 'RB') && at[1] < ball[1] && Math.abs(at[0] - ball[0]) <= 3,
  );
  return (
    nearestTo(
      ball,
      behind.filter((player) => player.position === 'QB'),
    ) ??
    nearestTo(
      ball,
      behind.filter((player) => player.position === 'RB'),
    )
  );
}

function nearestTo(spot: Point, players: readonly Player[]): Player | null {
  return players.reduce<Player | null>(
    (best, player) =>
      best && distance(best.at, spot) <= distance(player.at, spot) ? best : player,
    null,
  );
}
