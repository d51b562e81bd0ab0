import type { View } from '@stemline/drawing/scene';
import { toUnits } from '@stemline/drawing/shape';
import type { SnapLine } from '../tools/snap.ts';
import classes from './layers.module.css';

/** The lines a hand rests on, with what they are. `px`: drawing units of one CSS pixel. */
export function GuidesLayer({
  guides,
  view,
  px,
}: {
  guides: readonly SnapLine[];
  view: View;
  px: number;
}) {
  return guides.map((guide) => {
    const across = guide.axis === 'y';
    const [x1, y1] = toUnits(across ? [view.left, guide.at] : [guide.at, view.bottom]);
    const [x2, y2] = toUnits(
      across ? [view.left + view.width, guide.at] : [guide.at, view.bottom + view.height],
    );
    return (
      <g key={`${guide.axis}${guide.name}`} className={classes.guide} aria-hidden>
        <line
          x1={x1}
          y1={y1}
          x2={x2}
          y2={y2}
          strokeWidth={px}
          strokeDasharray={`${4 * px} ${3 * px}`}
        />
        <text
          x={across ? x1 + 10 * px : x2 + 5 * px}
          y={across ? y1 - 5 * px : y2 + 16 * px}
          fontSize={12 * px}
        >
          {guide.name}
        </text>
      </g>
    );
  });
}
