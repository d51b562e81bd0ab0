import { withDragged } from '@stemline/drawing/play-scene';
import type { Point } from '@stemline/football/geometry';
import { distance } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type { Tool } from './board-ui.ts';
import {
  type BendPath,
  beginBend,
  bentPlay,
  endBend,
  type Handle,
  handlesOf,
  moveBend,
} from './tools/bend-path.ts';
import {
  beginDrag,
  type DragPlayers,
  draggedSpots,
  endDrag,
  moveDrag,
} from './tools/drag-players.ts';
import { beginPath, type DrawPath, dropPoint, endPath, hoverPath } from './tools/draw-path.ts';
import type { Edit } from './tools/edit.ts';
import { distanceToLine, handleAt, playerAt } from './tools/hit.ts';
import { pathOf, startOf } from './tools/path.ts';
import { beginBox, boxed, clicked, moveBox, type SelectBox } from './tools/select-box.ts';
import type { SnapLine } from './tools/snap.ts';

/** What a hand is doing on the board. */
export type Gesture = DragPlayers | SelectBox | DrawPath | BendPath;

/** What a gesture needs to know; lengths in yards, since they come from pixels. */
export interface Around {
  play: Play;
  look: AlignedLook | null;
  tool: Tool;
  selected: readonly PlayerId[];
  /** How far off a press may land. */
  reach: number;
  /** How near a line has to be to draw the hand onto it. */
  snapReach: number;
  /** How far a hand moves before a press is a drag. */
  slack: number;
  /** Snapping is left out. */
  free: boolean;
  /** The selection is added to. */
  adding: boolean;
  mayEdit(player: PlayerId): boolean;
}

export interface Outcome {
  gesture: Gesture | null;
  edit?: Edit | null;
  select?: readonly PlayerId[];
  tool?: Tool;
  /** The point of a line that was taken hold of; null lets go of it. */
  handle?: Handle | null;
  /** A defender was pressed. */
  defender?: DefenderId;
}

/** Handles of the one selected player, where he may be edited. */
export function shownHandles({ play, selected, tool, mayEdit }: Around): Handle[] {
  const [only, ...others] = selected;
  if (!only || others.length > 0 || tool !== 'select' || !mayEdit(only)) return [];
  return [...handlesOf(play, only, 'route'), ...handlesOf(play, only, 'motion')];
}

function ownerOfLineAt(play: Play, at: Point, reach: number): PlayerId | null {
  for (const { id } of play.players) {
    for (const what of ['route', 'motion'] as const) {
      const start = startOf(play, id, what);
      const points = pathOf(play, id, what);
      if (start && points.length > 0 && distanceToLine(at, [start, ...points]) <= reach) return id;
    }
  }
  return null;
}

function defenderAt(look: AlignedLook | null, at: Point, reach: number): DefenderId | null {
  const near = look?.defenders.find((defender) => distance(defender.at, at) <= reach);
  return near?.id ?? null;
}

/** A press on a man takes him up; elsewhere it is the first point of the one who is selected. */
function pressToDraw(at: Point, around: Around, what: 'route' | 'motion'): Outcome {
  const { play, selected, reach, mayEdit } = around;
  const pressed = playerAt(play, at, reach);
  const player = pressed ?? selected[0];
  if (!player || !mayEdit(player)) return { gesture: null };
  const path = beginPath(play, player, what);
  return {
    gesture: path && !pressed ? dropAt(path, at, around) : path,
    select: [player],
  };
}

const dropAt = (path: DrawPath, at: Point, around: Around): DrawPath =>
  dropPoint(hoverPath(path, around.play, at, { reach: around.snapReach, free: around.free }));

export function press(at: Point, around: Around, current: Gesture | null): Outcome {
  const { play, tool, selected, reach } = around;
  if (current?.kind === 'drawPath') {
    const other = current.points.length === 0 ? playerAt(play, at, reach) : null;
    return other && tool !== 'select'
      ? pressToDraw(at, around, tool)
      : { gesture: dropAt(current, at, around) };
  }
  if (tool !== 'select') return pressToDraw(at, around, tool);
  const handle = handleAt(shownHandles(around), at, reach * 0.7);
  const player = playerAt(play, at, reach);
  if (handle && !(player && distance(handle.at, at) > reach * 0.35)) {
    return { gesture: beginBend(play, handle), handle: handle.kind === 'point' ? handle : null };
  }
  if (player) {
    const select = around.adding
      ? clicked(selected, player, true)
      : selected.includes(player)
        ? selected
        : [player];
    if (!around.mayEdit(player)) return { gesture: null, select, handle: null };
    const movable = select.filter((id) => around.mayEdit(id));
    return { gesture: beginDrag(movable, player, at), select, handle: null };
  }
  const defender = defenderAt(around.look, at, reach);
  if (defender) return { gesture: null, defender };
  const owner = ownerOfLineAt(play, at, reach * 0.4);
  if (owner)
    return { gesture: null, select: clicked(selected, owner, around.adding), handle: null };
  return { gesture: beginBox(at, around.adding ? selected : []), handle: null };
}

export function move(at: Point, around: Around, gesture: Gesture): Gesture {
  const { play, slack, free } = around;
  const snapping = { reach: around.snapReach, free };
  switch (gesture.kind) {
    case 'dragPlayers':
      return moveDrag(gesture, play, at, { ...snapping, slack });
    case 'selectBox':
      return moveBox(gesture, at);
    case 'drawPath':
      return hoverPath(gesture, play, at, snapping);
    case 'bendPath':
      return moveBend(gesture, play, at, snapping);
  }
}

/** The hand lets go. A line being drawn goes on: its points are put down one press at a time. */
export function release(around: Around, gesture: Gesture): Outcome {
  const { play } = around;
  switch (gesture.kind) {
    case 'dragPlayers':
      // A press without a drag on one of several selects him alone.
      return gesture.under || around.adding
        ? { gesture: null, edit: endDrag(gesture, play) }
        : { gesture: null, select: [gesture.grabbed] };
    case 'selectBox':
      return { gesture: null, select: boxed(gesture, play) };
    case 'drawPath':
      return { gesture };
    case 'bendPath':
      return { gesture: null, edit: endBend(gesture, play) };
  }
}

/** Ends a line that is being drawn, as it stands. */
export function finish(around: Around, gesture: Gesture | null): Outcome {
  if (gesture?.kind !== 'drawPath') return { gesture };
  return { gesture: null, edit: endPath(gesture, around.play), tool: 'select' };
}

/** The play as letting go now would leave it; null while that changes nothing, and for a line being drawn. */
export function leftBy<P extends Play>(play: P, gesture: Gesture | null): P | null {
  if (gesture?.kind === 'bendPath') {
    const edit = endBend(gesture, play);
    return edit && bentPlay(play, edit);
  }
  const edit = gesture?.kind === 'dragPlayers' ? endDrag(gesture, play) : null;
  return edit?.do === 'movePlayers'
    ? withDragged(play, new Map(edit.moves.map(({ player, at }) => [player, at] as const)))
    : null;
}

/** The play as the gesture would leave it, and who is being dragged where. */
export function preview<P extends Play>(
  play: P,
  gesture: Gesture | null,
): { play: P; dragging: ReadonlyMap<PlayerId, Point>; guides: readonly SnapLine[] } {
  const still = new Map<PlayerId, Point>();
  switch (gesture?.kind) {
    case undefined:
    case 'selectBox':
      return { play, dragging: still, guides: [] };
    case 'dragPlayers':
      return { play, dragging: draggedSpots(gesture, play), guides: gesture.guides };
    case 'bendPath':
      return {
        play: bentPlay(play, endBend(gesture, play)),
        dragging: still,
        guides: gesture.guides,
      };
    case 'drawPath': {
      const under = gesture.next ? dropPoint(gesture) : gesture;
      return {
        play: bentPlay(play, endPath(under, play)),
        dragging: still,
        guides: gesture.guides,
      };
    }
  }
}
