import type { BoardPlay } from './board-play.ts';
import { type ElementKey, parseElementKey } from './element-key.ts';

/** What the drawing calls a player; the first 12 of his id when he is not on the board. */
export function labelOf(board: BoardPlay | null, player: string): string {
  return board?.play.players.find((each) => each.id === player)?.label ?? player.slice(0, 12);
}

const metaWords: Record<string, string> = {
  version: "the board's version",
  name: 'the name of the play',
  concept: 'the concept',
  situation: 'the situation',
  protection: 'the protection',
  drop: "the passer's drop",
};

/** An element as a coach would call it: "H's route", "row 3 of H's card". */
export function elementWords(key: ElementKey, board: BoardPlay | null): string {
  const name = parseElementKey(key);
  if (name === null) return `something unknown (${key.slice(0, 60)})`;
  if (name.root === 'notes') return 'the notes';
  if (name.root === 'meta') return metaWords[name.key] ?? name.key;
  const who = labelOf(board, name.player);
  const card = board?.play.cards.find((each) => each.player === name.player);
  switch (name.root) {
    case 'players':
      return who;
    case 'spots':
      return `where ${who} stands`;
    case 'routes':
      return `${who}'s route`;
    case 'motions':
      return `${who}'s motion`;
    case 'cards':
      return `${who}'s card`;
    case 'rows': {
      const at = card?.rows.findIndex((row) => row.id === name.row) ?? -1;
      return at < 0 ? `a row of ${who}'s card` : `row ${at + 1} of ${who}'s card`;
    }
    case 'branches': {
      const branch = card?.branches.find((each) => each.id === name.branch);
      return branch === undefined ? `a branch of ${who}'s card` : `${who}'s ${branch.name}`;
    }
  }
}
