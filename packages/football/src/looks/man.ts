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
  const all = (1 << targets.length) - 1;
  const best = new Map<number, { cost: number; taken: readonly (number | null)[] }>();

  const from = (
    index: number,
    left: number,
  ): { cost: number; taken: readonly (number | null)[] } => {
    const taker = takers[index];
    if (!taker) return { cost: uncovered * bits(left), taken: [] };
    const key = index * (all + 1) + left;
    const known = best.get(key);
    if (known) return known;
    const rest = from(index + 1, left);
    let answer = { cost: rest.cost, taken: [null, ...rest.taken] as readonly (number | null)[] };
    for (const [i, target] of targets.entries()) {
      if (!(left & (1 << i))) continue;
      const then = from(index + 1, left & ~(1 << i));
      const cost = then.cost + wish(taker, target);
      if (cost < answer.cost) answer = { cost, taken: [i, ...then.taken] };
    }
    best.set(key, answer);
    return answer;
  };

  const given = new Map<DefenderId, Player>();
  for (const [i, chosen] of from(0, all).taken.entries()) {
    const taker = takers[i];
    const target = chosen === null ? undefined : targets[chosen];
    if (taker && target) given.set(taker.id, target.player);
  }
  return given;
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
