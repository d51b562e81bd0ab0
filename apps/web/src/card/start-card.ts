import type { BoardDocument } from '@stemline/board/document';
import type { EditResult } from '@stemline/board/edit';
import type { Play, Player } from '@stemline/football/play';
import { firstBranches, plainHead } from './new-card.ts';

/** Gives a player a read card with the branches that he most likely has: one step to take back. */
export const startCard = (board: BoardDocument, play: Play, player: Player): EditResult =>
  board.together(() => {
    let result = board.setCard(player.id, plainHead);
    for (const branch of firstBranches(play, player))
      if (result.ok) result = board.putBranch(player.id, branch);
    return result;
  });
