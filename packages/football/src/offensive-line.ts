import { ballX } from './field.ts';
import { type Formation, perFormation } from './per-formation.ts';
import { isLineman } from './play.ts';
import { atSnap } from './snap.ts';

/** A side of the ball as the offence sees it. */
export type Side = 'left' | 'right';

export const signOf = (side: Side): 1 | -1 => (side === 'right' ? 1 : -1);

/**
 * Usual places of a line, yards from the ball: two-foot splits between men about two feet wide.
 * Common practice, no single source.
 */
export const usualSplit = 1.4;

/** Nobody wider than this from the ball belongs to the line; a front is set without him. Yards. */
const widestLine = 7.5;

/** How far outside the tackle a man still counts as attached to the line. Yards. */
const attachedWithin = 2.2;

/** How far outside the end a wing still counts as attached. Yards. */
const wingWithin = 1.6;

/** Where one half of a line stands: distances from the ball to that side, in yards, all positive. */
export interface LineHalf {
  readonly guard: number;
  readonly tackle: number;
  /** Where an end outside the tackle stands, or would stand. */
  readonly end: number;
  /** Somebody is attached there: an end, or a third lineman. */
  readonly isCovered: boolean;
  /** It is an end, who may go out. */
  readonly tightEnd: boolean;
  /** Outermost attached man, the tackle if there is none. */
  readonly edge: number;
}

/** The half of the line to one side, with usual splits wherever nobody is drawn. */
export const lineHalf = (play: Formation, side: Side): LineHalf => lineHalves(play)[side];

const lineHalves = perFormation(
  (play): Readonly<Record<Side, LineHalf>> => ({
    left: halfOf(play, 'left'),
    right: halfOf(play, 'right'),
  }),
);

/** Distances from the ball, from the inside out, of linemen and of others near the line. */
function nearTheBall(play: Formation, side: Side): { blockers: number[]; ends: number[] } {
  const ball = ballX(play.situation);
  const sign = signOf(side);
  const blockers: number[] = [];
  const ends: number[] = [];
  for (const { position, at } of atSnap(play)) {
    const x = sign * (at[0] - ball);
    if (x <= usualSplit / 2 || x > widestLine || position === 'C') continue;
    if (isLineman(position)) blockers.push(x);
    else if (at[1] >= -2) ends.push(x);
  }
  return { blockers: blockers.sort(ascending), ends: ends.sort(ascending) };
}

const ascending = (a: number, b: number): number => a - b;

function halfOf(play: Formation, side: Side): LineHalf {
  const { blockers, ends } = nearTheBall(play, side);
  const guard = blockers[0] ?? usualSplit;
  const endNextToGuard = ends.some((x) => x > guard + 0.5 && x < guard + usualSplit + 0.3);
  const tackle = blockers[1] ?? (endNextToGuard ? guard : guard + usualSplit);
  const outside = [...blockers.slice(2), ...ends].filter((x) => x > tackle + 0.5).sort(ascending);
  const end = outside[0];
  if (end === undefined || end > tackle + attachedWithin)
    return {
      guard,
      tackle,
      end: tackle + usualSplit,
      isCovered: false,
      tightEnd: false,
      edge: tackle,
    };
  const wing = outside[1];
  const edge = wing !== undefined && wing <= end + wingWithin ? wing : end;
  return { guard, tackle, end, isCovered: true, tightEnd: ends.includes(end), edge };
}
