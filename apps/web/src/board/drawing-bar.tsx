import { Button } from '@mantine/core';
import { usePlay } from '../live/hooks.ts';
import classes from './board-canvas.module.css';
import type { Gesture } from './gesture.ts';

/** What to do next while a line is being drawn, with the buttons that a finger needs. */
export function DrawingBar({
  gesture,
  onFinish,
  onCancel,
  onLift,
}: {
  gesture: Gesture | null;
  onFinish: () => void;
  onCancel: () => void;
  onLift: () => void;
}) {
  const play = usePlay();
  if (gesture?.kind !== 'drawPath') return null;
  const who = play.players.find(({ id }) => id === gesture.player)?.label ?? '';
  const begun = gesture.points.length > 0;
  return (
    <div className={classes.bar} role="toolbar" aria-label={`Drawing ${who}'s ${gesture.what}`}>
      <span className={classes.barText}>
        {begun ? `${who}'s ${gesture.what}: next point, or done` : `Put down ${who}'s first point`}
      </span>
      <Button size="compact-sm" variant="default" onClick={onLift} disabled={!begun}>
        Remove last point
      </Button>
      <Button size="compact-sm" variant="default" onClick={onCancel}>
        Cancel
      </Button>
      <Button size="compact-sm" onClick={onFinish} disabled={!begun}>
        Done
      </Button>
    </div>
  );
}
