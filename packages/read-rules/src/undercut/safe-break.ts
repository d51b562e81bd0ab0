import type { PlannedThrow } from '../throws/planned.ts';
import { breakAngle, type Change, replanned } from '../throws/replanned.ts';
import type { Way } from '../throws/ways.ts';
import { yards } from '../words.ts';
import { lanesOf } from './undercut.ts';

/** Angles are taught by five degrees, depths by the yard. */
const angleStep = 5;
const depthStep = 1;
/** A break that is turned or moved by more than this is another route. Degrees, yards. */
const mostTurn = 30;
const mostShift = 3;
/** Nobody is taught a break outside these: flatter, he comes back and settles. Degrees off upfield, yards past the line. */
const angles = { from: 20, to: 110 };
const shallowest = 3;

/** A break to teach instead, in a coach's words; `change` is null where there is none. */
export interface SafeBreak {
  readonly change: Change | null;
  readonly says: string;
}

/**
 * The break nearest to the one drawn that leaves nobody under the ball in any of these pictures: the
 * widest angle below it, else the least above it, else the deepest break short of it, else the
 * shallowest beyond it. The pictures that are likeliest to fail come first.
 */
export function safeBreak(planned: PlannedThrow, pictures: readonly Way[]): SafeBreak {
  const isSafe = (change: Change): boolean => {
    const other = replanned(planned, change);
    if (!other.balls.usual) return false;
    const lanes = lanesOf(other, 0);
    return pictures.every((picture) => !lanes.under(picture));
  };
  for (const { changes, says } of waysToBreak(planned)) {
    const change = changes.find(isSafe);
    if (change) return { change, says: says(change.angle ?? change.depth ?? 0) };
  }
  return {
    change: null,
    says: 'No break near this one clears him: against that, throw to somebody else.',
  };
}

interface Shift {
  /** The nearest first. */
  readonly changes: readonly Change[];
  readonly says: (number: number) => string;
}

function waysToBreak(planned: PlannedThrow): readonly Shift[] {
  const angle = breakAngle(planned);
  const depth = planned.clock.breaks?.at[1];
  if (depth === undefined) return [];
  const turned = (step: number, to: number): Change[] =>
    angle === null ? [] : steps(angle, step, to).map((one) => ({ angle: one }));
  const moved = (step: number, to: number): Change[] =>
    steps(depth, step, to).map((one) => ({ depth: one }));
  const decides = planned.choice?.branch.decideBy ?? shallowest;
  const from = angle ?? 0;
  return [
    {
      changes: turned(-angleStep, Math.max(angles.from, from - mostTurn)),
      says: (a) =>
        `Break at ${a}° off upfield or less; ${a}° is the widest that nobody gets under.`,
    },
    {
      changes: turned(angleStep, Math.min(angles.to, from + mostTurn)),
      says: (a) => `Break flatter: ${a}° off upfield is the least that nobody gets under.`,
    },
    {
      changes: moved(-depthStep, Math.max(shallowest, decides, depth - mostShift)),
      says: (d) => `Break at ${yards(d)} yd, the deepest that nobody gets under.`,
    },
    {
      changes: moved(depthStep, depth + mostShift),
      says: (d) => `Break deeper: ${yards(d)} yd is the least that nobody gets under.`,
    },
  ];
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
