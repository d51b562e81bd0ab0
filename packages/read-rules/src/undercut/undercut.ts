import type { AlignedLook, Defender, Reaction } from '@stemline/football/look';
import type { ThrownBall } from '../throws/ball.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import type { Way } from '../throws/ways.ts';
import { freeDefender } from './defender-clock.ts';
import { type Lane, laneOf } from './lane.ts';
import { leastMargin, type Margin } from './margin.ts';

/** Somebody under a throw. */
export interface Under extends Margin {
  readonly defender: Defender;
  readonly reaction: Reaction;
}

/**
 * The ways to throw one ball, to be held against defences. Margins above `near` (seconds) are nobody's
 * concern. What has been worked out of a man is kept, since his margin is the same whatever the
 * others do.
 */
export function lanesOf(planned: PlannedThrow, near: number): Lanes {
  const known = lanes.get(planned) ?? new Map<number, Lanes>();
  lanes.set(planned, known);
  const before = known.get(near);
  if (before) return before;
  const now = new Lanes(planned, near);
  known.set(near, now);
  return now;
}

const lanes = new WeakMap<PlannedThrow, Map<number, Lanes>>();

export class Lanes {
  readonly #planned: PlannedThrow;
  readonly #near: number;
  /** The usual way's lane; null where no part of its flight is within reach. */
  readonly #usual: KnownLane | null;
  /** Those of the other ways; worked out when first asked. */
  #others: readonly (KnownLane | null)[] | null = null;

  constructor(planned: PlannedThrow, near: number) {
    this.#planned = planned;
    this.#near = near;
    this.#usual = this.#laneOf(planned.balls.usual);
  }

  /**
   * The least margin that a defence leaves the throw, by the way to throw it that leaves most; null
   * where nobody gets near the ball of some way, or none of its flight is within reach.
   */
  under(way: Way): Under | null {
    return this.#most((lane) => lane.nearest(way));
  }

  /** The same where each man of a look makes the reaction of this number (`doingOf`). */
  underBy(look: AlignedLook, doing: readonly number[]): Under | null {
    return this.#most((lane) => lane.nearestBy(look, doing));
  }

  /** The same where there is but one man, who does what he is called to. */
  underAlone(defender: Defender): Under | null {
    return this.#most((lane) => lane.margin(defender, 0));
  }

  #most(of: (lane: KnownLane) => Under | null): Under | null {
    let best = this.#usual && of(this.#usual);
    if (!best) return null;
    for (const lane of this.#otherLanes()) {
      const under = lane && of(lane);
      if (!under) return null;
      if (under.seconds > best.seconds) best = under;
    }
    return best;
  }

  #otherLanes(): readonly (KnownLane | null)[] {
    this.#others ??= this.#planned.balls.others().map((ball) => this.#laneOf(ball));
    return this.#others;
  }

  #laneOf(ball: ThrownBall | null): KnownLane | null {
    const lane = ball && laneOf(ball);
    return lane && new KnownLane(this.#planned, lane, this.#near);
  }
}

/** More men than any shelf has: whom nobody has asked about for long is forgotten with the others. */
const mostMen = 2000;

/** A lane with the margins worked out so far. */
class KnownLane {
  readonly #planned: PlannedThrow;
  readonly #lane: Lane;
  readonly #near: number;
  readonly #men = new Map<Defender, (Under | null | undefined)[]>();
  readonly #called = new WeakMap<AlignedLook, Nearest>();

  constructor(planned: PlannedThrow, lane: Lane, near: number) {
    this.#planned = planned;
    this.#lane = lane;
    this.#near = near;
  }

  /** One man's margin by one of his reactions; null where he is not under it within `near` seconds. */
  margin(defender: Defender, does: number): Under | null {
    let his = this.#men.get(defender);
    if (!his) {
      if (this.#men.size >= mostMen) this.#men.clear();
      his = [];
      this.#men.set(defender, his);
    }
    let under = his[does];
    if (under === undefined) {
      const reaction = defender.reactions[does] as Reaction;
      under = marginOf(this.#planned, this.#lane, defender, reaction, this.#near);
      his[does] = under;
    }
    return under;
  }

  nearest({ look, man, does }: Way): Under | null {
    let called = this.#called.get(look);
    if (!called) {
      called = this.#nearestBut(look, -1);
      this.#called.set(look, called);
    }
    if (man < 0) return called.under;
    const his = this.margin(look.defenders[man] as Defender, does);
    const others = called.man === man ? this.#nearestBut(look, man) : called;
    if (!others.under || !his) return others.under ?? his;
    const isHis =
      his.seconds < others.under.seconds ||
      (his.seconds === others.under.seconds && man < others.man);
    return isHis ? his : others.under;
  }

  nearestBy({ defenders }: AlignedLook, doing: readonly number[]): Under | null {
    let least: Under | null = null;
    for (let man = 0; man < defenders.length; man++) {
      const under = this.margin(defenders[man] as Defender, doing[man] ?? 0);
      if (under && (!least || under.seconds < least.seconds)) least = under;
    }
    return least;
  }

  /** The nearest as called, one man left out of account. */
  #nearestBut({ defenders }: AlignedLook, left: number): Nearest {
    let least: Under | null = null;
    let nearest = -1;
    for (let man = 0; man < defenders.length; man++) {
      if (man === left) continue;
      const under = this.margin(defenders[man] as Defender, 0);
      if (!under || (least && under.seconds >= least.seconds)) continue;
      least = under;
      nearest = man;
    }
    return { under: least, man: nearest };
  }
}

/** Who is nearest, and his place in the look. */
interface Nearest {
  readonly under: Under | null;
  readonly man: number;
}

function marginOf(
  planned: PlannedThrow,
  lane: Lane,
  defender: Defender,
  reaction: Reaction,
  near: number,
): Under | null {
  const { code } = planned.alone.situation;
  const free = freeDefender(code, defender, reaction, planned, planned.out);
  const margin = free && leastMargin(free, lane, near);
  return margin && { ...margin, defender, reaction };
}
