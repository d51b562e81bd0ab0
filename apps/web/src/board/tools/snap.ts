import { receivers } from '@stemline/football/count';
import { ballX, halfWidth } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import { landmarks } from '@stemline/football/landmark';
import type { Play } from '@stemline/football/play';

/** A line that a hand comes to rest on, and why. Yards. */
export interface SnapLine {
  axis: 'x' | 'y';
  at: number;
  name: string;
}

export interface Snapped {
  at: Point;
  /** The lines it rests on, at most one an axis. */
  guides: readonly SnapLine[];
}

/** Where linemen and the men behind them stand (common practice, no single source). Yards. */
const onTheLine = -0.5;
const offTheLine = -1.5;

/** Hands off the grid are still kept to tenths of a yard: nobody lines up by centimetres. */
const toTenth = (yards: number): number => Math.round(yards * 10) / 10 + 0;

/** Half-way between neighbours of one side, the tackle's side counted from the ball: where a man splits them. */
function splits(play: Play, moving: ReadonlySet<PlayerId>): SnapLine[] {
  const { left, right } = receivers(play);
  return [left, right].flatMap((side) => {
    const others = side.filter(({ id }) => !moving.has(id));
    return others.flatMap((wide, i) => {
      const next = others[i + 1];
      const inner = next?.at[0] ?? ballX(play.situation);
      const name = next
        ? `half-way between ${wide.label} and ${next.label}`
        : `half-way between ${wide.label} and the ball`;
      return [{ axis: 'x' as const, at: (wide.at[0] + inner) / 2, name }];
    });
  });
}

/** Everything a man of this play may line up on. */
export function linesForPlayers(play: Play, moving: ReadonlySet<PlayerId>): SnapLine[] {
  const others = play.players.filter(({ id }) => !moving.has(id));
  return [
    ...landmarks(play.situation.code, play).filter(({ axis, at }) => axis === 'x' || at < 0),
    { axis: 'y', at: onTheLine, name: 'on the line' },
    { axis: 'y', at: offTheLine, name: 'off the line' },
    ...others.map(
      ({ at, label }): SnapLine => ({ axis: 'x', at: at[0], name: `in line with ${label}` }),
    ),
    ...others.map(
      ({ at, label }): SnapLine => ({ axis: 'y', at: at[1], name: `as deep as ${label}` }),
    ),
    ...splits(play, moving),
  ];
}

/** Everything a point of a path may rest on: the landmarks, and straight lines from the point before it. */
export function linesForPath(play: Play, previous: Point | null): SnapLine[] {
  const straight: SnapLine[] = previous
    ? [
        { axis: 'x', at: previous[0], name: 'straight up' },
        { axis: 'y', at: previous[1], name: 'flat' },
      ]
    : [];
  return [...straight, ...landmarks(play.situation.code, play)];
}

function nearest(lines: readonly SnapLine[], axis: 'x' | 'y', at: number, within: number) {
  let best: SnapLine | null = null;
  for (const line of lines) {
    if (line.axis !== axis) continue;
    const off = Math.abs(line.at - at);
    if (off <= within && (!best || off < Math.abs(best.at - at))) best = line;
  }
  return best;
}

const clamp = (value: number, least: number, most: number): number =>
  Math.min(most, Math.max(least, value));

/** The spot moved onto the nearest line of each axis within reach, else to the tenth; kept on the field. */
export function snap(at: Point, lines: readonly SnapLine[], within: number): Snapped {
  const x = nearest(lines, 'x', at[0], within);
  const y = nearest(lines, 'y', at[1], within);
  return {
    at: [
      clamp(x?.at ?? toTenth(at[0]), -halfWidth, halfWidth),
      clamp(y?.at ?? toTenth(at[1]), -25, 70),
    ],
    guides: [x, y].filter((line) => line !== null),
  };
}
