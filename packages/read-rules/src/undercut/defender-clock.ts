import { usualCosts } from '@stemline/football/footwork/costs';
import { defenderBreak, simpleReaction } from '@stemline/football/footwork/reaction';
import { distance, type Point } from '@stemline/football/geometry';
import type { Defender, Reaction } from '@stemline/football/look';
import { distanceAfter, type Sprint, speedAfter } from '@stemline/football/movement';
import type { RuleCode } from '@stemline/football/rulecode';
import { sprintPreset } from '@stemline/football/sprint-presets';
import type { ReceiverClock } from '../clock/receiver-clock.ts';
import { defenceReacts, runsLike } from '../pace.ts';
import type { PlannedThrow } from '../throws/planned.ts';

/** A defender at the moment from which he may run as he likes. */
export interface FreeDefender {
  /** Seconds from the snap. */
  readonly free: number;
  readonly at: Point;
  /** yd/s. */
  readonly velocity: Point;
  readonly runner: Sprint;
}

/** Who stands this near to where a reaction leads has that man. Yards. */
const hisMan = 0.5;
/** A wall stands a yard inside its receiver. */
const wallsWithin = 1.6;
/** In man coverage he keeps no more leverage than this, and runs a yard over his man. Yards. */
const mostLeverage = 1.5;
const over = 1;
/** A drop that gains more depth than this is run backward. Yards. */
const backward = 1;

/**
 * When a defender may go for a ball, and from where. Eyes on the passer: he drops as his reaction
 * says and breaks a simple reaction after the ball is out. Eyes on the receiver (man to man, or
 * walling him): he breaks when he has seen him cut, and is under the ball only where the cut goes into
 * his leverage; away from it he chases. Null for those who cannot: rushers, men with another
 * receiver, and the man of a receiver who never cuts.
 */
export function freeDefender(
  code: RuleCode,
  defender: Defender,
  reaction: Reaction,
  { receiver, clock }: PlannedThrow,
  out: number,
): FreeDefender | null {
  const runner = sprintPreset(code, runsLike[defender.level]);
  const seesThrow = out + simpleReaction.value;
  switch (reaction.move) {
    case 'rush':
      return null;
    case 'man': {
      if (!clock.breaks || distance(reaction.to, receiver.at) > hisMan) return null;
      const { at, seconds } = clock.breaks;
      const leverage = defender.at[0] - receiver.at[0];
      if (!breaksInto(clock, leverage)) return null;
      const kept = Math.min(mostLeverage, Math.max(-mostLeverage, leverage));
      return {
        free: seconds + defenderBreak.value,
        at: [at[0] + kept, at[1] + over],
        velocity: [0, 0],
        runner,
      };
    }
    case 'wall': {
      const leverage = reaction.to[0] - receiver.at[0];
      if (Math.abs(leverage) > wallsWithin || !breaksInto(clock, leverage)) return null;
      const seesCut = clock.breaks ? clock.breaks.seconds + defenderBreak.value : seesThrow;
      return onHisWay(runner, defender, reaction, Math.min(seesCut, seesThrow));
    }
    case 'drop':
    case 'widen':
    case 'sit':
      return onHisWay(runner, defender, reaction, seesThrow);
  }
}

/** The receiver ends up on the side on which this man plays him. */
function breaksInto({ breaks, line }: ReceiverClock, leverage: number): boolean {
  const end = line.finish.at(-1);
  return !!breaks && !!end && (end[0] - breaks.at[0]) * leverage > 0;
}

function onHisWay(runner: Sprint, { at }: Defender, { to }: Reaction, free: number): FreeDefender {
  const share = to[1] - at[1] > backward ? usualCosts.backpedal : 1;
  const gait: Sprint = { maxSpeed: runner.maxSpeed * share, tau: runner.tau };
  const length = distance(at, to);
  const run = distanceAfter(gait, free - defenceReacts);
  if (run >= length || length === 0) return { free, at: to, velocity: [0, 0], runner };
  const way: Point = [(to[0] - at[0]) / length, (to[1] - at[1]) / length];
  const speed = speedAfter(gait, free - defenceReacts);
  return {
    free,
    at: [at[0] + way[0] * run, at[1] + way[1] * run],
    velocity: [way[0] * speed, way[1] * speed],
    runner,
  };
}
