import { add, distance, type Offset, type Point, subtract } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Edit } from './edit.ts';
import { linesForPlayers, type SnapLine, snap } from './snap.ts';

/** Players under the hand. The document hears of it once, at the end. */
export interface DragPlayers {
  kind: 'dragPlayers';
  grabbed: PlayerId;
  players: readonly PlayerId[];
  /** Where the hand took hold. */
  from: Point;
  moved: Offset;
  /** Past the slack that keeps a click from being a drag. */
  under: boolean;
  guides: readonly SnapLine[];
}

/** Where a man may be put: on his own side of the ball. */
const keepBack = (at: Point): Point => [at[0], Math.min(0, at[1])];

export function beginDrag(
  selected: readonly PlayerId[],
  grabbed: PlayerId,
  from: Point,
): DragPlayers {
  const players = selected.includes(grabbed) ? selected : [grabbed];
  return { kind: 'dragPlayers', grabbed, players, from, moved: [0, 0], under: false, guides: [] };
}

/** `slack` and `reach` in yards, since they come from pixels; `free` leaves snapping out. */
export function moveDrag(
  drag: DragPlayers,
  play: Play,
  hand: Point,
  { slack, reach, free }: { slack: number; reach: number; free: boolean },
): DragPlayers {
  const start = play.players.find(({ id }) => id === drag.grabbed);
  if (!start || (!drag.under && distance(drag.from, hand) < slack)) return drag;
  const wanted = add(start.at, subtract(hand, drag.from));
  const lines = free ? [] : linesForPlayers(play, new Set(drag.players));
  const { at, guides } = snap(keepBack(wanted), lines, reach);
  return { ...drag, under: true, moved: subtract(keepBack(at), start.at), guides };
}

/** Where everybody under the hand stands now. */
export function draggedSpots(drag: DragPlayers, play: Play): Map<PlayerId, Point> {
  const spots = new Map<PlayerId, Point>();
  if (!drag.under) return spots;
  for (const { id, at } of play.players) {
    if (drag.players.includes(id)) spots.set(id, keepBack(add(at, drag.moved)));
  }
  return spots;
}

/** The same as it is written, and as the others are shown it on the way. */
export const movesOf = (
  drag: DragPlayers,
  play: Play,
): { player: PlayerId; at: [number, number] }[] =>
  [...draggedSpots(drag, play)].map(([player, [x, y]]) => ({ player, at: [tidy(x), tidy(y)] }));

export function endDrag(drag: DragPlayers, play: Play): Edit | null {
  const moves = movesOf(drag, play);
  return moves.length === 0 || (drag.moved[0] === 0 && drag.moved[1] === 0)
    ? null
    : { do: 'movePlayers', moves };
}

/** Centimetres are enough for a document. */
const tidy = (yards: number): number => Math.round(yards * 100) / 100 + 0;
