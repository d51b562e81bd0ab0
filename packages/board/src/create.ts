import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import * as Y from 'yjs';
import { type BoardPlay, boardPlaySchema, type NoteNode } from './board-play.ts';
import { check, type EditError } from './edit.ts';
import { branchKey, rowKey } from './element-key.ts';
import { documentVersion } from './migrations.ts';
import { readNotes } from './notes/read.ts';
import { writeNotes } from './notes/write.ts';
import { freshOrders } from './order.ts';
import { newDocument, rootsOf } from './schema.ts';

/** Who writes a board's first content. No member is ever bound to it. */
export const creatorClient = 1;

/**
 * The first state of a board. Only the server calls this, once: two editors that each seeded the
 * same content would double it. The same play gives the same bytes.
 *
 * Throws if no document can hold the play: it breaks its schema, or an id is there twice.
 */
export function createBoardState(
  given: RuledPlay,
  givenNotes: readonly NoteNode[] = [],
): Uint8Array {
  const { play, notes } = storable({ play: given, notes: givenNotes });
  const ydoc = newDocument(creatorClient);
  const { maps, notes: fragment } = rootsOf(ydoc);
  ydoc.transact(() => {
    maps.meta.set('version', documentVersion);
    maps.meta.set('name', play.name);
    maps.meta.set('concept', play.concept);
    maps.meta.set('situation', play.situation);
    if (play.protection) maps.meta.set('protection', play.protection);
    if (play.drop) maps.meta.set('drop', play.drop);
    for (const { id, at, ...info } of byId(play.players, (player) => player.id)) {
      maps.players.set(id, info);
      maps.spots.set(id, at);
    }
    for (const [id, route] of byId(Object.entries(play.routes), ([key]) => key))
      maps.routes.set(id, route);
    for (const [id, motion] of byId(Object.entries(play.motions), ([key]) => key))
      maps.motions.set(id, motion);
    for (const card of byId(play.cards, ({ player }) => player)) {
      maps.cards.set(card.player, card.head);
      const rowOrders = freshOrders(card.rows.length);
      card.rows.forEach((row, i) => {
        maps.rows.set(rowKey(card.player, row.id), { ...row, order: rowOrders[i] });
      });
      const branchOrders = freshOrders(card.branches.length);
      card.branches.forEach((branch, i) => {
        maps.branches.set(branchKey(card.player, branch.id), { ...branch, order: branchOrders[i] });
      });
    }
    writeNotes(fragment, notes);
  });
  const [problem] = readNotes(fragment).problems;
  if (problem !== undefined) throw new Error(`These notes cannot be a board's: ${problem}`);
  const state = Y.encodeStateAsUpdate(ydoc);
  ydoc.destroy();
  return state;
}

function storable(board: BoardPlay): BoardPlay {
  const checked = check(boardPlaySchema, board);
  if (!checked.ok) throw new Error(`This play cannot become a board: ${words(checked.error)}`);
  const { players, cards } = checked.value.play;
  const twice =
    twiceIn(players.map((player) => player.id)) ??
    twiceIn(cards.map((card) => card.player)) ??
    cards.map((card) => twiceIn(card.rows.map((row) => row.id))).find((id) => id !== undefined) ??
    cards
      .map((card) => twiceIn(card.branches.map((branch) => branch.id)))
      .find((id) => id !== undefined);
  if (twice !== undefined)
    throw new Error(`This play cannot become a board: "${twice}" is there twice`);
  return checked.value;
}

const twiceIn = (ids: readonly string[]): string | undefined =>
  ids.find((id, i) => ids.indexOf(id) !== i);
const words = (error: EditError): string =>
  error.code === 'invalid' ? `${error.where.join('.')}: ${error.why}` : error.why;

const byId = <T>(items: readonly T[], id: (item: T) => string): T[] =>
  [...items].sort((a, b) => (id(a) < id(b) ? -1 : 1));

/** The form in which a projection gives a play: players and cards in the order of their ids. */
export const inProjectedOrder = (board: BoardPlay): BoardPlay => ({
  ...board,
  play: {
    ...board.play,
    players: byId(board.play.players, (player) => player.id),
    cards: byId(board.play.cards, (card) => card.player),
  },
});
