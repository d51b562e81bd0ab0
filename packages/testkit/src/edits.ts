import type { NoteNode } from '@stemline/board/board-play';
import type { BoardDocument } from '@stemline/board/document';
import { writeNotes } from '@stemline/board/notes/write';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Player, PlayerInfo, Route, Situation } from '@stemline/football/play';
import type { Branch, BranchId, CardHead, Row, RowId } from '@stemline/read-rules/card';
import fc from 'fast-check';
import * as Y from 'yjs';
import { branch, cardHead, point, row } from './cards.ts';
import { noteBlock } from './notes.ts';
import { handPlayers, motion, position, route, situation } from './plays.ts';
import { text } from './texts.ts';

/** Something a coach does on a board, as data, so that a failing run can be read and shrunk. */
export type Edit =
  | { do: 'setName'; name: string }
  | { do: 'setConcept'; concept: string }
  | { do: 'setSituation'; situation: Situation }
  | { do: 'addPlayer'; newPlayer: Player }
  | { do: 'removePlayer'; player: PlayerId }
  | { do: 'setPlayerInfo'; player: PlayerId; info: PlayerInfo }
  | { do: 'movePlayers'; moves: readonly { player: PlayerId; at: Point }[] }
  | { do: 'replacePlayers'; players: readonly Player[] }
  | { do: 'setRoute'; player: PlayerId; route: Route }
  | { do: 'clearRoute'; player: PlayerId }
  | { do: 'setMotion'; player: PlayerId; motion: Motion }
  | { do: 'clearMotion'; player: PlayerId }
  | { do: 'setCard'; player: PlayerId; head: CardHead }
  | { do: 'removeCard'; player: PlayerId }
  | { do: 'putRow'; player: PlayerId; row: Row; first: boolean }
  | { do: 'moveRow'; player: PlayerId; from: number; after: number | null }
  | { do: 'removeRow'; player: PlayerId; at: number }
  | { do: 'putBranch'; player: PlayerId; branch: Branch }
  | { do: 'removeBranch'; player: PlayerId; at: number }
  | { do: 'writeNote'; at: number; node: NoteNode }
  | { do: 'eraseNote'; at: number }
  | { do: 'type'; at: number; text: string }
  | { do: 'mark'; at: number; length: number; mark: 'bold' | 'italic'; on: boolean };

/** Does it. Where the board does not allow it (a colleague was faster), nothing happens. */
export function makeEdit(board: BoardDocument, edit: Edit): void {
  const card = 'player' in edit ? cardOf(board, edit.player) : undefined;
  switch (edit.do) {
    case 'setName':
      board.setName(edit.name);
      return;
    case 'setConcept':
      board.setConcept(edit.concept);
      return;
    case 'setSituation':
      board.setSituation(edit.situation);
      return;
    case 'addPlayer':
      board.addPlayer(edit.newPlayer);
      return;
    case 'removePlayer':
      board.removePlayer(edit.player);
      return;
    case 'setPlayerInfo':
      board.setPlayerInfo(edit.player, edit.info);
      return;
    case 'movePlayers':
      board.movePlayers(edit.moves);
      return;
    case 'replacePlayers':
      board.replacePlayers(edit.players);
      return;
    case 'setRoute':
      board.setRoute(edit.player, edit.route);
      return;
    case 'clearRoute':
      board.clearRoute(edit.player);
      return;
    case 'setMotion':
      board.setMotion(edit.player, edit.motion);
      return;
    case 'clearMotion':
      board.clearMotion(edit.player);
      return;
    case 'setCard':
      board.setCard(edit.player, edit.head);
      return;
    case 'removeCard':
      board.removeCard(edit.player);
      return;
    case 'putRow':
      board.putRow(edit.player, edit.row, edit.first ? { after: null } : {});
      return;
    case 'moveRow':
      moveRow(board, edit.player, card?.rows ?? [], edit.from, edit.after);
      return;
    case 'removeRow':
      board.removeRow(edit.player, pick(card?.rows ?? [], edit.at)?.id ?? ('none' as RowId));
      return;
    case 'putBranch':
      board.putBranch(edit.player, edit.branch);
      return;
    case 'removeBranch':
      board.removeBranch(
        edit.player,
        pick(card?.branches ?? [], edit.at)?.id ?? ('none' as BranchId),
      );
      return;
    case 'writeNote':
      writeNote(board.notes, edit.at, edit.node);
      return;
    case 'eraseNote':
      if (board.notes.length > 0) board.notes.delete(edit.at % board.notes.length, 1);
      return;
    case 'type': {
      const text = firstText(board.notes, edit.at);
      text?.insert(between(text, edit.at % (text.length + 1)), edit.text);
      return;
    }
    case 'mark': {
      const text = firstText(board.notes, edit.at);
      if (text === null) return;
      const from = between(text, edit.at % Math.max(1, text.length));
      const to = between(text, Math.min(from + edit.length, text.length));
      if (to > from) text.format(from, to - from, { [edit.mark]: edit.on ? {} : null });
      return;
    }
  }
}

const cardOf = (board: BoardDocument, player: PlayerId) =>
  board.snapshot().board.play.cards.find((each) => each.player === player);
const pick = <T>(items: readonly T[], at: number): T | undefined =>
  items[at % Math.max(1, items.length)];

function moveRow(
  board: BoardDocument,
  player: PlayerId,
  rows: readonly Row[],
  from: number,
  after: number | null,
): void {
  const moving = pick(rows, from);
  const rest = rows.filter((each) => each !== moving);
  if (moving !== undefined) {
    board.moveRow(player, moving.id, after === null ? null : (pick(rest, after)?.id ?? null));
  }
}

/** As the notes editor's binding does it: one element put in at its place. */
function writeNote(notes: Y.XmlFragment, at: number, node: NoteNode): void {
  const holder = new Y.Doc().getXmlFragment('holder');
  writeNotes(holder, [node]);
  const made = holder.get(0);
  if (made instanceof Y.XmlElement) notes.insert(at % (notes.length + 1), [made.clone()]);
}

/** The first text of the block at a place, where it has one. */
function firstText(notes: Y.XmlFragment, at: number): Y.XmlText | null {
  const block = notes.length > 0 ? notes.get(at % notes.length) : null;
  const first = block instanceof Y.XmlElement && block.length > 0 ? block.get(0) : null;
  return first instanceof Y.XmlText ? first : null;
}

/**
 * A place between two whole characters. No editor writes inside of one; where one did, Yjs 13.6.33
 * would keep the character on one side of the line and break it on the other.
 */
function between(text: Y.XmlText, at: number): number {
  const runs = text.toDelta() as readonly { readonly insert: unknown }[];
  const unit = runs
    .map((run) => String(run.insert))
    .join('')
    .charCodeAt(at);
  return unit >= 0xdc00 && unit <= 0xdfff ? at - 1 : at;
}

const playerId = fc.constantFrom(...handPlayers().map((player) => player.id));
const player: fc.Arbitrary<Player> = fc
  .tuple(fc.constantFrom(...handPlayers()), point())
  .map(([who, at]) => ({ ...who, at }));
const at = fc.nat({ max: 20 });

/** Any edit; those that a staff makes most come most often. */
export const edit = (): fc.Arbitrary<Edit> => {
  const ids = handPlayers().map((each) => each.id);
  const make = <E extends Edit['do'], R>(kind: E, rest: fc.Arbitrary<R>) =>
    rest.map((value) => ({ do: kind, ...value }));
  return fc.oneof(
    make('setName', fc.record({ name: text(20, 1) })),
    make('setConcept', fc.record({ concept: text(20) })),
    make('setSituation', fc.record({ situation: situation() })),
    make('addPlayer', fc.record({ newPlayer: player })),
    make('removePlayer', fc.record({ player: playerId })),
    make(
      'setPlayerInfo',
      fc.record({
        player: playerId,
        info: fc.record({
          label: text(4, 1),
          position: position(),
          number: fc.integer({ min: 0, max: 99 }),
        }),
      }),
    ),
    {
      weight: 4,
      arbitrary: make(
        'movePlayers',
        fc.record({
          moves: fc.array(fc.record({ player: playerId, at: point() }), {
            minLength: 1,
            maxLength: 3,
          }),
        }),
      ),
    },
    make('replacePlayers', fc.record({ players: fc.subarray(handPlayers(), { minLength: 1 }) })),
    { weight: 3, arbitrary: make('setRoute', fc.record({ player: playerId, route: route() })) },
    make('clearRoute', fc.record({ player: playerId })),
    make('setMotion', fc.record({ player: playerId, motion: motion() })),
    make('clearMotion', fc.record({ player: playerId })),
    { weight: 3, arbitrary: make('setCard', fc.record({ player: playerId, head: cardHead(ids) })) },
    make('removeCard', fc.record({ player: playerId })),
    {
      weight: 3,
      arbitrary: make('putRow', fc.record({ player: playerId, row: row(), first: fc.boolean() })),
    },
    make('moveRow', fc.record({ player: playerId, from: at, after: fc.option(at) })),
    make('removeRow', fc.record({ player: playerId, at })),
    {
      weight: 2,
      arbitrary: make('putBranch', fc.record({ player: playerId, branch: branch(ids) })),
    },
    make('removeBranch', fc.record({ player: playerId, at })),
    make('writeNote', fc.record({ at, node: noteBlock() })),
    make('eraseNote', fc.record({ at })),
    make('type', fc.record({ at, text: text(10, 1) })),
    {
      weight: 2,
      arbitrary: make(
        'mark',
        fc.record({
          at,
          length: fc.integer({ min: 1, max: 8 }),
          mark: fc.constantFrom('bold', 'italic'),
          on: fc.boolean(),
        }),
      ),
    },
  ) as fc.Arbitrary<Edit>;
};
