import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import * as Y from 'yjs';
import type { BoardPlay, NoteNode } from './board-play.ts';
import { branchKey, rowKey } from './element-key.ts';
import { documentVersion } from './migrations.ts';
import { writeNotes } from './notes/write.ts';
import { freshOrders } from './order.ts';
import { newDocument, rootsOf } from './schema.ts';

/** Who writes a board's first content. No member is ever bound to it. */
export const creatorClient = 1;

/**
 * The first state of a board. Only the server calls this, once: two editors that each seeded the
 * same content would double it. The same play gives the same bytes.
 */
export function createBoardState(play: RuledPlay, notes: readonly NoteNode[] = []): Uint8Array {
  const ydoc = newDocument(creatorClient);
  const { maps, notes: fragment } = rootsOf(ydoc);
  ydoc.transact(() => {
    maps.meta.set('version', documentVersion);
    maps.meta.set('name', play.name);
    maps.meta.set('concept', play.concept);
    maps.meta.set('situation', play.situation);
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
  const state = Y.encodeStateAsUpdate(ydoc);
  ydoc.destroy();
  return state;
}

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
