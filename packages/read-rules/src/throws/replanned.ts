import { add, distance, type Point, subtract } from '@stemline/football/geometry';
import { degrees, radians } from '@stemline/football/units';
import type { Line } from '../branch-path.ts';
import { lineClock } from '../clock/receiver-clock.ts';
import { stemTo } from '../stem.ts';
import { type PlannedThrow, plannedOn } from './planned.ts';

/** How a break may be taught otherwise. */
export interface Change {
  /** Yards past the line. */
  readonly depth?: number;
  /** Degrees off straight upfield. */
  readonly angle?: number;
}

/** The same throw with its break somewhere else, or turned otherwise; each is worked out once. */
export function replanned(planned: PlannedThrow, change: Change): PlannedThrow {
  const tried = known.get(planned) ?? new Map<string, PlannedThrow>();
  known.set(planned, tried);
  const key = `${change.depth ?? ''} ${change.angle ?? ''}`;
  const before = tried.get(key);
  if (before) return before;
  const now = changed(planned, change);
  tried.set(key, now);
  return now;
}

const known = new WeakMap<PlannedThrow, Map<string, PlannedThrow>>();

function changed(planned: PlannedThrow, change: Change): PlannedThrow {
  const { receiver, alone, clock } = planned;
  const stem = change.depth === undefined ? clock.line.stem : stemTo(alone, receiver, change.depth);
  const moved = subtract(endOf(stem), endOf(clock.line.stem));
  const shifted = clock.line.finish.map((point) => add(point, moved));
  const finish = change.angle === undefined ? shifted : turned(stem, shifted, change.angle);
  const line: Line = { stem, finish };
  return plannedOn(planned, lineClock(alone, receiver, line, clock.manner));
}

/** How a straight finish leaves its break: degrees off upfield; null where there is none, or it bends. */
export function breakAngle({ clock }: PlannedThrow): number | null {
  const { stem, finish } = clock.line;
  const at = endOf(stem);
  const [first, ...others] = finish;
  return first && others.length === 0 && distance(first, at) > 1e-6
    ? degrees(Math.atan2(Math.abs(first[0] - at[0]), first[1] - at[1]))
    : null;
}

const endOf = (points: readonly [Point, ...Point[]]): Point => points[points.length - 1] as Point;

/** The finish turned about its break, to the same side. */
function turned(stem: Line['stem'], finish: readonly Point[], angle: number): readonly Point[] {
  const at = endOf(stem);
  const first = finish.find((point) => distance(point, at) > 1e-6);
  if (!first) return finish;
  const side = first[0] < at[0] ? -1 : 1;
  const was = Math.atan2(first[0] - at[0], first[1] - at[1]);
  const by = side * radians(angle) - was;
  const [cos, sin] = [Math.cos(by), Math.sin(by)];
  return finish.map((point) => {
    const [x, y] = subtract(point, at);
    return [at[0] + x * cos + y * sin, at[1] - x * sin + y * cos];
  });
}
