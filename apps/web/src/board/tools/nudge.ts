import { halfWidth } from '@stemline/football/field';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Edit } from './edit.ts';

/** Yards of one arrow key; with shift a yard, with alt a tenth. */
export const nudgeStep = (keys: { shift: boolean; alt: boolean }): number =>
  keys.alt ? 0.1 : keys.shift ? 1 : 0.5;

const round = (yards: number): number => Math.round(yards * 100) / 100 + 0;

/** Moves the selected by one step, kept on the field and behind the ball. */
export function nudge(
  play: Play,
  selected: readonly PlayerId[],
  [dx, dy]: readonly [number, number],
): Edit | null {
  const moves = play.players
    .filter(({ id }) => selected.includes(id))
    .map(({ id, at: [x, y] }) => ({
      player: id,
      at: [
        round(Math.min(halfWidth, Math.max(-halfWidth, x + dx))),
        round(Math.min(0, Math.max(-25, y + dy))),
      ] as const,
    }));
  return moves.length === 0 ? null : { do: 'movePlayers', moves };
}
