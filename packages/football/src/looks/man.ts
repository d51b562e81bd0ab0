import type { DefenderId } from '../ids.ts';
import type { Play, Player } from '../play.ts';
import type { Picture } from './picture.ts';
import type { ManJob, Target } from './recipe.ts';

/** A defender who is to take somebody, and where on the width of the field he lives. */
export interface Taker {
  readonly id: DefenderId;
  readonly job: ManJob;
  readonly home: number;
}

/** Leaving a man free outweighs every wish. */
const uncovered = 10_000;

/** Taking somebody he was not told of outweighs every wish that was told. */
const notTold = 100;

/**
 * Gives every receiver and back to one defender, never two to one: as many as can be are covered,
 * and among those ways the one that follows the recipe's wishes best. Small enough to try them all.
 */
export function giveMen(
  takers: readonly Taker[],
  picture: Picture,
): ReadonlyMap<DefenderId, Player> {
  const targets = targetsOf(picture);
  const given = new Map<DefenderId, Player>();
  if (takers.length === 0) return given;
  const wishes = takers.map((taker) => targets.map((target) => wish(taker, target)));
  const best = new Best(wishes, targets.length);
  let left = (1 << targets.length) - 1;
  for (const [i, taker] of takers.entries()) {
    const target = best.chosen(i, left);
    const player = targets[target]?.player;
    if (!player) continue;
    given.set(taker.id, player);
    left &= ~(1 << target);
  }
  return given;
}

const nobody = -1;

/** The cheapest way for the takers from one on, with these targets left (a bit each), and whom the first of them takes. */
class Best {
  readonly #wishes: readonly (readonly number[])[];
  readonly #targets: number;
  readonly #cost: Float64Array;
  readonly #taken: Int8Array;

  constructor(wishes: readonly (readonly number[])[], targets: number) {
    this.#wishes = wishes;
    this.#targets = targets;
    this.#cost = new Float64Array(wishes.length << targets).fill(Number.NaN);
    this.#taken = new Int8Array(wishes.length << targets);
  }

  chosen(index: number, left: number): number {
    this.#costFrom(index, left);
    return this.#taken[(index << this.#targets) + left] ?? nobody;
  }

  #costFrom(index: number, left: number): number {
    const wishes = this.#wishes[index];
    if (!wishes) return uncovered * bits(left);
    const key = (index << this.#targets) + left;
    const known = this.#cost[key] ?? Number.NaN;
    if (!Number.isNaN(known)) return known;
    let least = this.#costFrom(index + 1, left);
    let taken = nobody;
    for (let i = 0; i < wishes.length; i++) {
      if (!(left & (1 << i))) continue;
      const cost = this.#costFrom(index + 1, left & ~(1 << i)) + (wishes[i] as number);
      if (cost < least) {
        least = cost;
        taken = i;
      }
    }
    this.#cost[key] = least;
    this.#taken[key] = taken;
    return least;
  }
}

interface NamedTarget {
  readonly name: Target | null;
  readonly player: Play['players'][number];
}

function targetsOf({ receivers, backs }: Picture): readonly NamedTarget[] {
  const named = (players: readonly Player[], names: readonly Target[]): NamedTarget[] =>
    players.map((player, i) => ({ name: names[i] ?? null, player }));
  return [
    ...named(receivers.strong, ['strong1', 'strong2', 'strong3', 'strong4']),
    ...named(receivers.weak, ['weak1', 'weak2', 'weak3']),
    ...named(backs, ['back1', 'back2']),
  ];
}

function wish({ job, home }: Taker, { name, player }: NamedTarget): number {
  const told = name ? job.takes.indexOf(name) : -1;
  return told >= 0 ? told : notTold + Math.abs(player.at[0] - home);
}

const bits = (mask: number): number => {
  let count = 0;
  for (let rest = mask; rest; rest &= rest - 1) count++;
  return count;
};
