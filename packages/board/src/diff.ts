import type { PlayerId } from '@stemline/football/ids';
import type { BoardPlay } from './board-play.ts';
import { describeCard } from './describe/card.ts';
import { describeNotes } from './describe/notes.ts';
import { describeHead, describeMotion, describePlayers, describeRoute } from './describe/play.ts';
import { count } from './describe/say.ts';
import { branchKey, type ElementKey, elementKey, rowKey } from './element-key.ts';
import { sameJson } from './json.ts';
import { moved } from './moved.ts';
import type { Projection } from './project.ts';

type Values = ReadonlyMap<ElementKey, unknown>;

/** Everything a projection shows, value by value, as the document keeps it, but for places in an order. */
function valuesOf({ board }: Projection): Values {
  const { play, notes } = board;
  const values = new Map<ElementKey, unknown>([
    ['meta/name', play.name],
    ['meta/concept', play.concept],
    ['meta/situation', play.situation],
    ['notes', notes],
    ...(play.protection ? ([['meta/protection', play.protection]] as const) : []),
    ...(play.drop ? ([['meta/drop', play.drop]] as const) : []),
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

/**
 * What a coach would say has changed, one sentence each; empty when nothing has. `before` null: the
 * play was not there.
 */
export function describeChanges(before: BoardPlay | null, after: BoardPlay): string[] {
  const { play } = after;
  if (before === null) {
    const routes = Object.keys(play.routes).length;
    return [
      `“${play.name}” is new: ${count(play.players.length, 'player')}, ${count(routes, 'route')}, ${count(play.cards.length, 'read card')}`,
    ];
  }
  const old = before.play;
  // Named as they are now; who is gone keeps his old label.
  const labelOf = (id: string): string =>
    [...play.players, ...old.players].find((player) => player.id === id)?.label ??
    'a player who is gone';
  return [
    ...describeHead(old, play),
    ...describePlayers(old, play),
    ...idsOf(old.routes, play.routes).flatMap((id) => describeRoute(labelOf(id), id, old, play)),
    ...idsOf(old.motions, play.motions).flatMap((id) =>
      describeMotion(labelOf(id), old.motions[id], play.motions[id]),
    ),
    ...[...new Set([...old.cards, ...play.cards].map((card) => card.player))].sort().flatMap((id) =>
      describeCard(
        old.cards.find((card) => card.player === id),
        play.cards.find((card) => card.player === id),
        labelOf,
      ),
    ),
    ...describeNotes(before.notes, after.notes),
  ];
}

const idsOf = (a: object, b: object): PlayerId[] =>
  [...new Set([...Object.keys(a), ...Object.keys(b)])].sort() as PlayerId[];
