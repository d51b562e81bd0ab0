import type { PlayerId } from '@stemline/football/ids';
import type { KeyboardEvent } from 'react';
import { useBoard, usePlay } from '../live/hooks.ts';
import { useBoardUi } from './board-ui-context.tsx';
import { type Command, commandOf } from './keyboard.ts';
import type { Rights } from './rights.ts';
import { removePoint } from './tools/bend-path.ts';
import { dropPoint, liftPoint, steerPath, withLastPoint } from './tools/draw-path.ts';
import { type Edit, write } from './tools/edit.ts';
import { nudge } from './tools/nudge.ts';
import type { useGestures } from './use-gestures.ts';

type Hand = ReturnType<typeof useGestures>;

/** Keys on the board. What is none of the board's is left to the browser. */
export function useBoardKeys(hand: Hand, rights: Rights) {
  const board = useBoard();
  const play = usePlay();
  const [ui, tell] = useBoardUi();
  const mine = ui.selected.filter((player) => rights.player(player));
  const drawing = hand.gesture?.kind === 'drawPath';

  const put = (edit: Edit | null): void => {
    if (edit) write(board, edit);
  };
  /** Delete takes the motion first, then the route: never the man himself by one key. */
  const remove = (player: PlayerId): void => {
    if (play.routes[player]) put({ do: 'clearRoute', player });
    else if (play.motions[player]) put({ do: 'clearMotion', player });
  };

  const run = (command: Command): boolean => {
    switch (command.kind) {
      case 'nudge':
        // A quick hand presses the next key before the line is on the screen: it is the line's all the same.
        if (drawing || (ui.tool !== 'select' && mine.length === 1)) {
          hand.steer((g) => (g.kind === 'drawPath' ? steerPath(g, command.by) : g));
        } else if (mine.length > 0) {
          put(nudge(play, mine, command.by));
        } else {
          return false;
        }
        return true;
      case 'tool':
        tell({ do: 'tool', tool: command.tool });
        return true;
      case 'dropPoint':
        hand.steer((g) => (g.kind === 'drawPath' ? { ...dropPoint(g), next: null } : g));
        return true;
      case 'liftPoint':
        hand.steer((g) => (g.kind === 'drawPath' ? liftPoint(g) : g));
        return true;
      case 'finish':
        hand.steer((g) => (g.kind === 'drawPath' ? withLastPoint(g) : g));
        hand.finish();
        return true;
      case 'delete':
        if (hand.handle) {
          put(removePoint(play, hand.handle));
          hand.setHandle(null);
        } else {
          mine.forEach(remove);
        }
        return true;
      case 'undo':
        return board.undo.undo() || true;
      case 'redo':
        return board.undo.redo() || true;
      case 'selectAll':
        tell({ do: 'select', players: play.players.map(({ id }) => id) });
        return true;
      case 'escape':
        if (hand.gesture) hand.cancel();
        else if (hand.handle) hand.setHandle(null);
        else if (ui.tool === 'select') tell({ do: 'select', players: [] });
        tell({ do: 'tool', tool: 'select' });
        return true;
    }
  };

  return (event: KeyboardEvent): void => {
    const command = commandOf(
      {
        key: event.key,
        shift: event.shiftKey,
        alt: event.altKey,
        command: event.ctrlKey || event.metaKey,
      },
      drawing,
    );
    const looksOnly = command?.kind === 'selectAll' || command?.kind === 'escape';
    if (!command || (!rights.any && !looksOnly)) return;
    if (run(command)) event.preventDefault();
  };
}
