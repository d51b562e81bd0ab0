import { branchKey, type ElementKey, elementKey, rowKey } from './element-key.ts';
import { sameJson } from './json.ts';
import type { Projection } from './project.ts';

type Values = ReadonlyMap<ElementKey, unknown>;

/** Everything a projection shows, value by value, as the document keeps it. Places in an order count as numbers. */
function valuesOf({ board }: Projection): Values {
  const { play, notes } = board;
  const values = new Map<ElementKey, unknown>([
    ['meta/name', play.name],
    ['meta/concept', play.concept],
    ['meta/situation', play.situation],
    ['notes', notes],
  ]);
  for (const { id, at, ...info } of play.players) {
    values.set(elementKey('players', id), info);
    values.set(elementKey('spots', id), at);
  }
  for (const [id, route] of Object.entries(play.routes))
    values.set(elementKey('routes', id), route);
  for (const [id, motion] of Object.entries(play.motions))
    values.set(elementKey('motions', id), motion);
  for (const { player, head, rows, branches } of play.cards) {
    values.set(elementKey('cards', player), head);
    for (const row of rows) values.set(elementKey('rows', rowKey(player, row.id)), row);
    for (const branch of branches)
      values.set(elementKey('branches', branchKey(player, branch.id)), branch);
  }
  return values;
}

/**
 * The elements that read differently, in the order of their names. A row that only stands in
 * another place reads the same; its card's order is compared as well, and the rows that moved
 * against it are named.
 */
export function changedElements(before: Projection, after: Projection): ElementKey[] {
  if (before.board === after.board) return [];
  const old = valuesOf(before);
  const next = valuesOf(after);
  const changed = new Set<ElementKey>();
  for (const key of new Set([...old.keys(), ...next.keys()])) {
    if (!sameJson(old.get(key), next.get(key))) changed.add(key);
  }
  for (const key of movedParts(before, after)) changed.add(key);
  return [...changed].sort();
}

function movedParts(before: Projection, after: Projection): ElementKey[] {
  return after.board.play.cards.flatMap((card): ElementKey[] => {
    const old = before.board.play.cards.find((each) => each.player === card.player);
    if (old === undefined || old === card) return [];
    return [
      ...moved(old.rows, card.rows).map((id) => elementKey('rows', `${card.player}.${id}`)),
      ...moved(old.branches, card.branches).map((id) =>
        elementKey('branches', `${card.player}.${id}`),
      ),
    ];
  });
}

/** Of those that both have, which stand elsewhere among them: all but a longest run that kept its order. */
export function moved(
  before: readonly { readonly id: string }[],
  after: readonly { readonly id: string }[],
): string[] {
  const place = new Map(before.map(({ id }, i) => [id, i]));
  const common = after.map(({ id }) => id).filter((id) => place.has(id));
  // Longest increasing run of old places, by patience sorting.
  const tails: number[] = [];
  const previous: number[] = [];
  const at = (i: number): number => place.get(common[i] ?? '') ?? 0;
  common.forEach((_, i) => {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (at(tails[middle] ?? 0) < at(i)) low = middle + 1;
      else high = middle;
    }
    previous[i] = low === 0 ? -1 : (tails[low - 1] ?? -1);
    tails[low] = i;
  });
  const kept = new Set<number>();
  for (let i = tails.at(-1) ?? -1; i >= 0; i = previous[i] ?? -1) kept.add(i);
  return common.filter((_, i) => !kept.has(i));
}
