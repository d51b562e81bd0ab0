import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';

/** A box drawn over players. */
export interface SelectBox {
  kind: 'selectBox';
  from: Point;
  to: Point;
  /** Who was selected before and stays so (shift held). */
  keeps: readonly PlayerId[];
}

export const beginBox = (from: Point, keeps: readonly PlayerId[]): SelectBox => ({
  kind: 'selectBox',
  from,
  to: from,
  keeps,
});

export const moveBox = (box: SelectBox, to: Point): SelectBox => ({ ...box, to });

const between = (value: number, a: number, b: number): boolean =>
  value >= Math.min(a, b) && value <= Math.max(a, b);

/** Everybody inside the box, and who was kept, in the order of the play. */
export function boxed({ from, to, keeps }: SelectBox, play: Play): PlayerId[] {
  return play.players
    .filter(
      ({ id, at }) =>
        keeps.includes(id) || (between(at[0], from[0], to[0]) && between(at[1], from[1], to[1])),
    )
    .map(({ id }) => id);
}

/** A click adds to or takes from the selection with shift held, else it stands alone. */
export function clicked(
  selected: readonly PlayerId[],
  player: PlayerId,
  adding: boolean,
): readonly PlayerId[] {
  if (!adding) return [player];
  return selected.includes(player) ? selected.filter((id) => id !== player) : [...selected, player];
}
