import type { Play } from '@stemline/football/play';
import type { Picture } from '../throws/pictures.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import { breakAngle, type Change, replanned } from '../throws/replanned.ts';
import { yards } from '../words.ts';
import { thrownOf, underneath } from './undercut.ts';

/** Angles are taught by five degrees, depths by the yard. */
const angleStep = 5;
const depthStep = 1;
/** A break that is turned or moved by more than this is another route. Degrees, yards. */
const mostTurn = 30;
const mostShift = 3;
/** Nobody is taught a break outside these. Degrees off upfield, yards past the line. */
const angles = { from: 20, to: 130 };
const shallowest = 3;

/**
 * The break nearest to the one drawn that leaves nobody under the ball in any of these pictures: the
 * widest angle below it, else the least above it, else the deepest break short of it, else the
 * shallowest beyond it. In a coach's words. The pictures that are likeliest to fail come first.
 */
export function safeBreak(play: Play, planned: PlannedThrow, pictures: readonly Picture[]): string {
  const isSafe = (change: Change): boolean => {
    const other = thrownOf(play.situation.code, replanned(play, planned, change), 0);
    return (
      other.planned.balls.usual !== null &&
      pictures.every(({ look, reactions }) => !underneath(other, look, reactions))
    );
  };
  const angle = breakAngle(planned);
  const depth = planned.clock.breaks?.at[1];
  if (angle !== null && depth !== undefined) {
    const less = steps(angle, -angleStep, Math.max(angles.from, angle - mostTurn));
    const narrow = less.find((a) => isSafe({ angle: a }));
    if (narrow !== undefined)
      return `Break at ${narrow}° off upfield or less; ${narrow}° is the widest that nobody gets under.`;
    const more = steps(angle, angleStep, Math.min(angles.to, angle + mostTurn));
    const flat = more.find((a) => isSafe({ angle: a }));
    if (flat !== undefined)
      return `Break flatter: ${flat}° off upfield is the least that nobody gets under.`;
  }
  if (depth !== undefined) {
    const decides = planned.choice?.branch.decideBy ?? shallowest;
    const less = steps(depth, -depthStep, Math.max(shallowest, decides, depth - mostShift));
    const short = less.find((d) => isSafe({ depth: d }));
    if (short !== undefined)
      return `Break at ${yards(short)} yd, the deepest that nobody gets under.`;
    const more = steps(depth, depthStep, depth + mostShift);
    const deep = more.find((d) => isSafe({ depth: d }));
    if (deep !== undefined)
      return `Break deeper: ${yards(deep)} yd is the least that nobody gets under.`;
  }
  return 'No break near this one clears him: against that, throw to somebody else.';
}

/** The round numbers beyond `from`, one by one, up to `to`. */
function steps(from: number, step: number, to: number): number[] {
  const size = Math.abs(step);
  const up = step > 0;
  const found: number[] = [];
  let next = (up ? Math.floor(from / size + 1 + 1e-9) : Math.ceil(from / size - 1 - 1e-9)) * size;
  while (up ? next <= to : next >= to) {
    found.push(next);
    next += step;
  }
  return found;
}
