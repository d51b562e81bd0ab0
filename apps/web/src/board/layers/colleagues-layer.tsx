import { parseElementKey } from '@stemline/board/element-key';
import { markRadius } from '@stemline/drawing/offence';
import { toUnits, yards } from '@stemline/drawing/shape';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { CSSProperties } from 'react';
import type { Colleague } from '../../live/presence.ts';
import { usePresenceColors } from '../use-presence-colors.ts';
import classes from './layers.module.css';

/** The player that somebody's selection belongs to; a row or a branch belongs to its card's. */
function playerOf(selected: string | null): PlayerId | null {
  const name = selected === null ? null : parseElementKey(selected);
  return name && 'player' in name ? name.player : null;
}

function Cursor({ colleague, px }: { colleague: Colleague; px: number }) {
  if (!colleague.cursor) return null;
  const [x, y] = toUnits(colleague.cursor);
  const { name } = colleague.member;
  const short = name.length > 18 ? `${name.slice(0, 17)}…` : name;
  return (
    <g transform={`translate(${x} ${y}) scale(${px})`} className={classes.cursor}>
      <path d="M0 0 L0 14 L4 10.5 L9 10.5 Z" />
      <rect x={9} y={12} width={short.length * 6.1 + 12} height={17} rx={3} />
      <text x={14} y={24.5} fontSize={11.5}>
        {short}
      </text>
    </g>
  );
}

/** The others at work: their cursors, and rings around what they have selected. */
export function ColleaguesLayer({
  colleagues,
  spots,
  px,
}: {
  colleagues: readonly Colleague[];
  /** Where the players stand on this screen, drags included. */
  spots: ReadonlyMap<PlayerId, Point>;
  px: number;
}) {
  const colors = usePresenceColors();
  return (
    <g className={classes.colleagues} aria-hidden>
      {colleagues.map((colleague) => {
        const player = playerOf(colleague.selected);
        const at = player && spots.get(player);
        const style = { '--who': colors.get(colleague.member.id) } as CSSProperties;
        return (
          <g key={colleague.clientId} style={style}>
            {at && (
              <circle
                className={classes.ring}
                cx={toUnits(at)[0]}
                cy={toUnits(at)[1]}
                r={yards(markRadius) + 4 * px}
                strokeWidth={2 * px}
              />
            )}
            <Cursor colleague={colleague} px={px} />
          </g>
        );
      })}
    </g>
  );
}
