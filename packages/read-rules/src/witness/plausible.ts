import { halfWidth } from '@stemline/football/field';
import { distance, type Point } from '@stemline/football/geometry';
import type { AlignedLook, Defender } from '@stemline/football/look';
import { elbowRoom, nearestLine } from '@stemline/football/looks/separate';

/** On the field, on the defence's side of the ball. */
export const canStandAt = ([x, y]: Point, toGoal: number): boolean =>
  Math.abs(x) <= halfWidth && y >= nearestLine && y <= toGoal + 10;

/** The first two men who stand in each other's way; null when all are apart. */
export function crowded({ defenders }: AlignedLook): readonly [Defender, Defender] | null {
  for (let i = 1; i < defenders.length; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [defenders[j] as Defender, defenders[i] as Defender];
      // Far apart in width, as most are: the root need not be drawn.
      if (Math.abs(a.at[0] - b.at[0]) < elbowRoom && distance(a.at, b.at) < elbowRoom - 1e-6)
        return [a, b];
    }
  }
  return null;
}

/** Eleven men, each where he can stand. Whether they are apart is told by `crowded`. */
export const isOnField = ({ defenders }: AlignedLook, toGoal: number): boolean =>
  defenders.length === 11 && defenders.every(({ at }) => canStandAt(at, toGoal));
