import { distance, type Point } from '@stemline/football/geometry';
import type { Defender } from '@stemline/football/look';
import { timeToRun } from '@stemline/football/movement';
import type { RuleCode } from '@stemline/football/rulecode';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { defenceReacts, runsLike } from '../pace.ts';

/** Where the line sets to block a pass, yards behind the line of scrimmage. Common practice, no single source. */
const setsAt = 1;
/** Nobody runs through a blocker: half of his width, and of the rusher's. Yards. Common practice, no single source. */
const body = 0.5;
/** So far outside the last blocker the edge is turned. Yards. Common practice, no single source. */
const edge = 1;

/**
 * Seconds from the snap until a rusher whom nobody blocks is where the passer throws from: he reacts
 * to the ball and sprints there, through the nearest gap or round the edge where a blocker stands in
 * his straight way. The turn costs him nothing, so he is never later than he would be; that he is
 * there, and not a yard short, keeps him from being early.
 */
export const arrival = (
  code: RuleCode,
  { level, at }: Defender,
  spot: Point,
  blockers: readonly { readonly at: Point }[] = [],
): number =>
  defenceReacts + timeToRun(sprintPreset(code, runsLike[level]), wayPast(at, spot, blockers));

/** Yards from a rusher to the passer, past blockers who have set. */
export function wayPast(
  from: Point,
  to: Point,
  blockers: readonly { readonly at: Point }[],
): number {
  const straight = distance(from, to);
  if (blockers.length === 0 || !(from[1] > -setsAt && to[1] < -setsAt)) return straight;
  const crosses = from[0] + ((to[0] - from[0]) * (from[1] + setsAt)) / (from[1] - to[1]);
  const line = blockers.map(({ at }) => at[0]).sort((a, b) => a - b);
  const inWay = line.findIndex((x) => Math.abs(x - crosses) < body);
  if (inWay === -1) return straight;
  /** By the first gap on a side; between two who stand closer than their bodies nobody gets through. */
  const past = (side: -1 | 1): number => {
    let i = inWay;
    while (Math.abs((line[i + side] ?? Number.POSITIVE_INFINITY) - (line[i] as number)) < 2 * body)
      i += side;
    const [x, next] = [line[i] as number, line[i + side]];
    const gate: Point = [next === undefined ? x + side * edge : (x + next) / 2, -setsAt];
    return distance(from, gate) + distance(gate, to);
  };
  return Math.min(past(-1), past(1));
}
