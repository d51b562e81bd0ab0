import { halfWidth } from '@stemline/football/field';
import { distance, type Point } from '@stemline/football/geometry';
import type { AlignedLook, Defender, Level } from '@stemline/football/look';
import { elbowRoom, nearestLine } from '@stemline/football/looks/separate';
import type { Draft } from '../facts/draft.ts';
import { chosen } from '../facts/sighting.ts';

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

/** How deep men of a level line up, yards; no man is moved out of it. Common practice, no single source. */
const livesAt: Readonly<Record<Level, { readonly from: number; readonly to: number }>> = {
  line: { from: nearestLine, to: 2 },
  second: { from: nearestLine, to: 9 },
  corner: { from: nearestLine, to: 12 },
  deep: { from: 6, to: 25 },
};

/** Fewer never come, and with more nobody would be left for the receivers. Common practice, no single source. */
const rushers = { from: 2, to: 8 };

/**
 * Eleven men, each where he can stand and, if he was moved, where men of his level do; and of them
 * no more rush, nor fewer, than a defence sends. Whether they are apart is told by `crowded`.
 */
export function isPlausible(
  { look, reactions }: Draft,
  { look: start, reactions: called }: Draft,
  toGoal: number,
): boolean {
  const before = new Map(start.defenders.map((defender) => [defender.id, defender]));
  const standsWell = (man: Defender): boolean => {
    const was = before.get(man.id);
    const isMoved = !was || was.level !== man.level || distance(was.at, man.at) > 0;
    const { from, to } = livesAt[man.level];
    return canStandAt(man.at, toGoal) && (!isMoved || (man.at[1] >= from && man.at[1] <= to));
  };
  if (look.defenders.length !== 11 || !look.defenders.every(standsWell)) return false;
  const come = coming({ look, reactions });
  return (
    (come >= rushers.from && come <= rushers.to) ||
    come === coming({ look: start, reactions: called })
  );
}

const coming = ({ look, reactions }: Draft): number =>
  look.defenders.filter((defender) => chosen(defender, reactions).move === 'rush').length;
