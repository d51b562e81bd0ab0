import { type Point, pathLength, pointAlong } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';
import type { Branch, ReadCard } from './card.ts';
import { offenceHasRun, secondsToRun } from './pace.ts';
import { isRoute, readerOf } from './reader.ts';
import { stemDepth, stemTo } from './stem.ts';

/** When and where a card is decided. */
export interface Decision {
  /** After the snap. */
  readonly seconds: number;
  /** Where the man whose room counts is by then. */
  readonly at: Point;
}

/**
 * A quarterback without a depth of his own decides a quick throw as it must leave his hand: 1.3 to
 * 1.7 s after the snap for quick game (common practice, no single source).
 */
const passerDecides = 1.5;

/**
 * A man who blocks sees his man come or drop in the first steps after the snap, and acts on it then.
 * Common practice, no single source.
 */
const blockerDecides = 0.6;

/** The depth by which a branch's decision is made; null for a branch that has none of its own. */
export const decideDepth = (branch: Branch): number | null =>
  isRoute(branch) ? branch.decideBy : null;

/** Seconds after the snap at which `player` reaches the depth by which a branch must be decided. */
export function secondsToDecide(play: Play, player: Player, branch: Branch): number {
  if (!isRoute(branch)) return branch.kind === 'target' ? passerDecides : blockerDecides;
  return secondsToReach(play, player, branch.decideBy, branch.release.hesitate);
}

/**
 * The card's one decision: the earliest that any of its branches asks for, since until then he
 * cannot tell which branch it will be. `runner` is the man whose room and cushion count.
 */
export function decisionOf(play: Play, card: ReadCard, runner: Player): Decision {
  const own = card.branches.filter(isRoute);
  const [first] = [...own].sort((a, b) => a.decideBy - b.decideBy);
  if (!first) {
    const seconds = readerOf(play, card) === 'passer' ? passerDecides : blockerDecides;
    return { seconds, at: runnerAfter(play, runner, seconds) };
  }
  const hesitate = Math.min(...own.map(({ release }) => release.hesitate));
  const stem = stemTo(play, runner, first.decideBy);
  return {
    seconds: secondsToReach(play, runner, first.decideBy, hesitate),
    at: stem[stem.length - 1] as Point,
  };
}

/** Seconds after the snap at which he has come down his stem to `depth` yards past the line. */
function secondsToReach(play: Play, player: Player, depth: number, hesitate: number): number {
  const run = pathLength(stemTo(play, player, depth));
  return secondsToRun(play.situation.code, player.position, run, hesitate);
}

/** Where a man with a drawn route is by then, on his stem; a man without one stands still. */
function runnerAfter(play: Play, runner: Player, seconds: number): Point {
  const depth = stemDepth(play, runner);
  return depth === null
    ? runner.at
    : pointAlong(
        stemTo(play, runner, depth),
        offenceHasRun(play.situation.code, runner.position, seconds),
      );
}
