import type { Leg, Run } from '@stemline/football/footwork/run';
import { type TimedPath, timeAt, timedPath } from '@stemline/football/footwork/timed-path';
import { distance, type Point, pathLength } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';
import { roundedRadius, routePoints } from '@stemline/football/route';
import { settles as doesSettle, stopsAfterBreak } from '@stemline/football/route-end';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { degrees } from '@stemline/football/units';
import { branchLine, type Line } from '../branch-path.ts';
import type { RouteBranch } from '../card.ts';
import { stemTo } from '../stem.ts';
import { bent } from './bends.ts';

/** A receiver on his way by the clock: seconds from the snap. */
export interface ReceiverClock {
  readonly path: TimedPath;
  /** His first movement, the hesitation of his release included. */
  readonly releases: number;
  /** By when he has decided, on a branch of a card. */
  readonly decides: number | null;
  /** Null on a way without a break: a seam, a go. */
  readonly breaks: Break | null;
  /** When what is drawn is run; after it he stands there, or runs on the same way. */
  readonly drawnUntil: number;
  /** He stops at the end and waits. */
  readonly settles: boolean;
  /** What the clock was put to, so that it can be put to another line. */
  readonly line: Line;
  readonly manner: Manner;
}

export interface Break {
  readonly at: Point;
  readonly seconds: number;
  /** When he shows his eyes. */
  readonly eyes: number;
}

/** A turn of less than this is no break. Degrees. */
const leastTurn = 20;
/** How far he is followed beyond his drawing. Yards. */
const runsOn = 25;

/** Where his way ends across the field. */
export const endsAcross = ({ line }: ReceiverClock): number =>
  (line.finish.at(-1) ?? (line.stem[line.stem.length - 1] as Point))[0];

/** His clock on a branch of his card. `player` stands where he is at the snap. */
export const branchClock = (play: Play, player: Player, branch: RouteBranch): ReceiverClock =>
  lineClock(play, player, branchLine(play, player, branch), {
    hesitate: branch.release.hesitate,
    eyes: branch.eyes,
    settles: branch.finish.kind === 'sit' || undefined,
    decidesAlong: pathLength(stemTo(play, player, branch.decideBy)),
    radius: 0,
  });

/** His clock on his drawn route; null where none is drawn. */
export function drawnClock(play: Play, player: Player): ReceiverClock | null {
  const route = play.routes[player.id];
  if (!route) return null;
  const points = routePoints(player, route);
  const line: Line = {
    stem: [player.at, ...points.slice(1, 1 + route.stem.length)],
    finish: points.slice(1 + route.stem.length),
  };
  return lineClock(play, player, line, {
    hesitate: route.release.hesitate,
    eyes: 0,
    settles: route.finish.length === 0 ? doesSettle(route) : undefined,
    decidesAlong: null,
    radius: route.shape === 'rounded' ? roundedRadius : 0,
  });
}

/** What a line alone does not say. */
export interface Manner {
  readonly hesitate: number;
  readonly eyes: number;
  /** Left out: as the line says. */
  readonly settles: boolean | undefined;
  readonly decidesAlong: number | null;
  /** How far from a corner he begins to run it round; 0 where he cuts. Yards. */
  readonly radius: number;
}

export function lineClock(play: Play, player: Player, line: Line, manner: Manner): ReceiverClock {
  const preset = sprintPreset(play.situation.code, player.position);
  const releases = preset.start + manner.hesitate;
  const settles =
    manner.settles ?? stopsAfterBreak(line.stem[line.stem.length - 1] as Point, line.finish);
  const drawn = [...line.stem.slice(1), ...line.finish];
  const whole = settles ? drawn : [...drawn, ...onward([...line.stem, ...line.finish])];
  const { points, at } = bent(player.at, whole, manner.radius);
  const run: Run = {
    from: player.at,
    start: { kind: 'still', delay: releases },
    legs: points.map((to): Leg => ({ to, gait: 'sprint', hesitate: 0 })),
    finish: settles ? 'stop' : 'through',
  };
  const path = timedPath(preset, run);
  const markOf = (point: number) => path.marks[at[point] ?? -1];
  const stemMark = markOf(line.stem.length - 2);
  const breaksAt = line.stem[line.stem.length - 1] as Point;
  const turns = line.finish.length === 0 ? settles : turnAt(line) >= leastTurn;
  const seconds = stemMark?.arrives ?? releases;
  return {
    path,
    releases,
    decides:
      manner.decidesAlong === null
        ? null
        : Math.max(releases, timeAt(path, manner.decidesAlong) ?? path.arrives),
    breaks: turns ? { at: breaksAt, seconds, eyes: seconds + manner.eyes } : null,
    drawnUntil: markOf(drawn.length - 1)?.arrives ?? releases,
    settles,
    line,
    manner,
  };
}

function turnAt({ stem, finish }: Line): number {
  const at = stem[stem.length - 1] as Point;
  const before = [...stem].reverse().find((point) => distance(point, at) > 1e-6);
  const after = finish.find((point) => distance(point, at) > 1e-6);
  if (!after) return 0;
  if (!before) return 180;
  const [ax, ay] = [at[0] - before[0], at[1] - before[1]];
  const [bx, by] = [after[0] - at[0], after[1] - at[1]];
  return degrees(Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)));
}

/** On from the end of a line the way it points; nothing where it points nowhere. */
function onward(points: readonly Point[]): Point[] {
  const end = points.at(-1);
  const before = end && [...points].reverse().find((point) => distance(point, end) > 1e-6);
  if (!end || !before) return [];
  const length = distance(before, end);
  const step = (i: 0 | 1): number => end[i] + ((end[i] - before[i]) / length) * runsOn;
  return [[step(0), step(1)]];
}
