import { Button } from '@mantine/core';
import { useBoard, usePlay } from '../live/hooks.ts';
import classes from './board-canvas.module.css';
import { breakHere, type Handle, removePoint } from './tools/bend-path.ts';
import { type Edit, write } from './tools/edit.ts';

/** What can be done with the point of a line that was last taken hold of. */
export function PointBar({ handle, onDone }: { handle: Handle | null; onDone: () => void }) {
  const board = useBoard();
  const play = usePlay();
  if (handle?.kind !== 'point') return null;
  const who = play.players.find(({ id }) => id === handle.player)?.label ?? '';
  const take = (edit: Edit | null): void => {
    if (edit) write(board, edit);
    onDone();
  };
  return (
    <div className={classes.bar} role="toolbar" aria-label="Point of the line">
      <span className={classes.barText}>
        {handle.isBreak
          ? `${who} breaks here`
          : `Point ${handle.index + 1} of ${who}'s ${handle.what}`}
      </span>
      {handle.what === 'route' && !handle.isBreak && (
        <Button size="compact-sm" variant="default" onClick={() => take(breakHere(play, handle))}>
          Break here
        </Button>
      )}
      <Button size="compact-sm" variant="default" onClick={() => take(removePoint(play, handle))}>
        Remove point
      </Button>
      <Button size="compact-sm" variant="subtle" onClick={onDone}>
        Close
      </Button>
    </div>
  );
}
