import { toUnits } from '@stemline/drawing/shape';
import type { Handle } from '../tools/bend-path.ts';
import classes from './layers.module.css';

/** Where a line can be taken hold of: points filled, the break a diamond, middles hollow and small. */
export function HandlesLayer({
  handles,
  held,
  px,
}: {
  handles: readonly Handle[];
  held: Handle | null;
  px: number;
}) {
  return handles.map((handle) => {
    const [x, y] = toUnits(handle.at);
    const isHeld =
      held !== null &&
      held.kind === handle.kind &&
      held.what === handle.what &&
      held.index === handle.index;
    const key = `${handle.what}${handle.kind}${handle.index}`;
    if (handle.kind === 'middle') {
      return (
        <circle
          key={key}
          className={classes.middle}
          cx={x}
          cy={y}
          r={3.5 * px}
          strokeWidth={1.25 * px}
        />
      );
    }
    const half = (handle.isBreak ? 6 : 5) * px;
    return (
      <rect
        key={key}
        className={classes.point}
        data-held={isHeld || undefined}
        x={x - half}
        y={y - half}
        width={half * 2}
        height={half * 2}
        rx={handle.isBreak ? 0 : half}
        strokeWidth={1.75 * px}
        transform={handle.isBreak ? `rotate(45 ${x} ${y})` : undefined}
      />
    );
  });
}
