import type { BoardDocument } from '@stemline/board/document';
import type { EditResult } from '@stemline/board/edit';
import type { Point } from '@stemline/football/geometry';
import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Player, PlayerInfo, Route, Situation } from '@stemline/football/play';

/** What the end of a gesture, or a key, writes: one edit, one step to take back. */
export type Edit =
  | { do: 'movePlayers'; moves: readonly { player: PlayerId; at: Point }[] }
  | { do: 'setRoute'; player: PlayerId; route: Route }
  | { do: 'clearRoute'; player: PlayerId }
  | { do: 'setMotion'; player: PlayerId; motion: Motion }
  | { do: 'clearMotion'; player: PlayerId }
  | { do: 'setPlayerInfo'; player: PlayerId; info: PlayerInfo }
  | { do: 'removePlayer'; player: PlayerId }
  | { do: 'replacePlayers'; players: readonly Player[] }
  | { do: 'setSituation'; situation: Situation };

/** Writes an edit. Every football conflict is taken; only what no board can hold is not. */
export function write(board: BoardDocument, edit: Edit): EditResult {
  switch (edit.do) {
    case 'movePlayers':
      return board.movePlayers(edit.moves);
    case 'setRoute':
      return board.setRoute(edit.player, edit.route);
    case 'clearRoute':
      return board.clearRoute(edit.player);
    case 'setMotion':
      return board.setMotion(edit.player, edit.motion);
    case 'clearMotion':
      return board.clearMotion(edit.player);
    case 'setPlayerInfo':
      return board.setPlayerInfo(edit.player, edit.info);
    case 'removePlayer':
      return board.removePlayer(edit.player);
    case 'replacePlayers':
      return board.replacePlayers(edit.players);
    case 'setSituation':
      return board.setSituation(edit.situation);
  }
}

/** Several edits that are one to the coach: one step to take back. Stops at the first that cannot be kept. */
export function writeTogether(board: BoardDocument, edits: readonly Edit[]): EditResult {
  return board.together(() => {
    for (const edit of edits) {
      const result = write(board, edit);
      if (!result.ok) return result;
    }
    return { ok: true };
  });
}
