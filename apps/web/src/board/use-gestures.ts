import type { View } from '@stemline/drawing/scene';
import type { Point } from '@stemline/football/geometry';
import type { DefenderId } from '@stemline/football/ids';
import { type PointerEvent, type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import { useBoard, usePlay } from '../live/hooks.ts';
import { useLive } from '../live/live-context.tsx';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import { useBoardUi } from './board-ui-context.tsx';
import {
  type Around,
  finish,
  type Gesture,
  move,
  type Outcome,
  press,
  release,
} from './gesture.ts';
import { playerElementId } from './layers/players-layer.tsx';
import type { Rights } from './rights.ts';
import type { Handle } from './tools/bend-path.ts';
import { movesOf } from './tools/drag-players.ts';
import { beginPath, liftPoint } from './tools/draw-path.ts';
import { write } from './tools/edit.ts';
import { fingerPx, mousePx } from './tools/hit.ts';
import { fieldSpot } from './view-fill.ts';

/** A hand's way to a drag, and how near a landmark draws it on, CSS pixels. */
const slackPx = 4;
const snapPx = 9;

interface Modifiers {
  shift: boolean;
  alt: boolean;
  finger: boolean;
}

/** Pointers on the board turned into gestures, their edits written, their way shown to the others. */
export function useGestures(
  svg: RefObject<SVGSVGElement | null>,
  view: View,
  rights: Rights,
  onDefender: (defender: DefenderId) => void,
) {
  const board = useBoard();
  const play = usePlay();
  const live = useLive();
  const { standing } = useOnTheBoard();
  const [ui, tell] = useBoardUi();
  const [gesture, setGesture] = useState<Gesture | null>(null);
  const [handle, setHandle] = useState<Handle | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  // Several pointer events may come before React renders: the newest gesture is kept here as well.
  const current = useRef<Gesture | null>(null);
  const movedAt = useRef(0);

  const around = useCallback(
    ({ shift, alt, finger }: Modifiers): Around => {
      const px = view.width / (svg.current?.getBoundingClientRect().width || 1);
      return {
        play,
        look: standing?.look ?? null,
        tool: ui.tool,
        selected: ui.selected,
        reach: Math.max(0.9, ((finger ? fingerPx : mousePx) / 2) * px),
        snapReach: snapPx * px,
        slack: slackPx * px,
        free: alt,
        adding: shift,
        mayEdit: rights.player,
      };
    },
    [play, standing, ui.tool, ui.selected, view, rights, svg],
  );

  const apply = useCallback(
    (outcome: Outcome): void => {
      const before = current.current;
      current.current = outcome.gesture;
      setGesture(outcome.gesture);
      if (outcome.handle !== undefined) setHandle(outcome.handle);
      if (outcome.select) tell({ do: 'select', players: outcome.select });
      if (outcome.tool) tell({ do: 'tool', tool: outcome.tool });
      if (outcome.defender) onDefender(outcome.defender);
      if (outcome.edit) {
        const result = write(board, outcome.edit);
        setTrouble(result.ok ? null : result.error.why);
      }
      if (before?.kind === 'dragPlayers' && outcome.gesture === null) live.present({ drag: null });
    },
    [board, live, tell, onDefender],
  );

  const spotOf = (event: PointerEvent): Point => {
    const box = svg.current?.getBoundingClientRect() ?? { left: 0, top: 0, width: 1, height: 1 };
    return fieldSpot({ x: event.clientX, y: event.clientY }, box, view);
  };
  const keysOf = (event: PointerEvent): Modifiers => ({
    shift: event.shiftKey,
    alt: event.altKey,
    finger: event.pointerType !== 'mouse',
  });

  const onPointerDown = (event: PointerEvent): void => {
    if (event.button !== 0 || !event.isPrimary) return;
    // Focus goes to the player that was pressed, not to whatever lies topmost under the pointer.
    event.preventDefault();
    const outcome = press(spotOf(event), around(keysOf(event)), current.current);
    if (outcome.gesture) svg.current?.setPointerCapture(event.pointerId);
    const player = outcome.select?.at(-1);
    const target = player ? document.getElementById(playerElementId(player)) : svg.current;
    // Who gets the focus is selected alone; what the press selects comes after that and prevails.
    target?.focus({ preventScroll: true });
    apply(outcome);
  };

  const onPointerMove = (event: PointerEvent): void => {
    if (!event.isPrimary) return;
    const at = spotOf(event);
    const doing = current.current;
    movedAt.current = event.timeStamp;
    if (doing) {
      const next = move(at, around(keysOf(event)), doing);
      current.current = next;
      setGesture(next);
      if (next.kind === 'dragPlayers' && next.under) {
        live.present({ cursor: [...at], drag: movesOf(next, play) });
        return;
      }
    }
    live.present({ cursor: [...at] });
  };

  const onPointerUp = (event: PointerEvent): void => {
    if (!event.isPrimary || !current.current) return;
    const here = around(keysOf(event));
    // A line of touch goes on point by point; its next point follows the next press.
    apply(release(here, current.current));
  };

  const cancel = useCallback((): void => {
    if (current.current) apply({ gesture: null });
  }, [apply]);

  const end = useCallback((): void => {
    apply(finish(around({ shift: false, alt: false, finger: false }), current.current));
  }, [apply, around]);

  /** Changes the gesture under way from outside, as keys do. */
  const steer = useCallback((change: (gesture: Gesture) => Gesture): void => {
    if (!current.current) return;
    current.current = change(current.current);
    setGesture(current.current);
  }, []);

  // Whoever is selected when a drawing tool is taken up is the one who is drawn.
  const only = ui.selected.length === 1 ? ui.selected[0] : undefined;
  const { tool } = ui;
  const drawn = useRef(tool);
  useEffect(() => {
    const changed = drawn.current !== tool;
    drawn.current = tool;
    if (!changed) return;
    const path =
      tool !== 'select' && only && rights.player(only) ? beginPath(play, only, tool) : null;
    current.current = path;
    setGesture(path);
  }, [tool, only, play, rights]);

  const lift = useCallback((): void => {
    steer((doing) => (doing.kind === 'drawPath' ? liftPoint(doing) : doing));
  }, [steer]);

  return {
    liftPoint: lift,
    gesture,
    handle,
    trouble,
    /** When the hand last moved, as events tell the time. */
    movedAt,
    setHandle,
    cancel,
    finish: end,
    steer,
    pointer: {
      onPointerDown,
      onPointerMove,
      onPointerUp,
      onPointerCancel: cancel,
      onDoubleClick: end,
      onPointerLeave: () => live.present({ cursor: null }),
    },
  };
}
