import type { PlayerId } from '@stemline/football/ids';
import type { Branch, CardHead, ReadCard, Row, RowId } from '@stemline/read-rules/card';
import { type Mend, mendSchema } from '@stemline/read-rules/mends/mend';
import type { Placing } from './card-parts.ts';
import { check, done, type EditResult, refuse } from './edit.ts';
import { maxRowsOfCard } from './limits.ts';
import type { Projection } from './project.ts';

/** What of a board's hand a mend needs. */
export interface CardHand {
  readonly snapshot: () => Projection;
  together<T>(edits: () => T): T;
  setCard(player: PlayerId, head: CardHead): EditResult;
  putRow(player: PlayerId, row: Row, placing?: Placing<RowId>): EditResult;
  readonly removeRow: (player: PlayerId, row: RowId) => EditResult;
  putBranch(player: PlayerId, branch: Branch): EditResult;
}

/**
 * Makes a mend on the card as it is now; must agree with `applyMend` of read-rules/mends. What could
 * refuse a part of it is asked first, so that it is made whole or not at all.
 */
export function makeMend(board: CardHand, mend: Mend): EditResult {
  const checked = check(mendSchema, mend);
  if (!checked.ok) return checked;
  const card = board
    .snapshot()
    .board.play.cards.find(({ player }) => player === checked.value.player);
  if (!card) return refuse('unknown', 'this player has no read card');
  return board.together(() => making(board, card, checked.value));
}

function making(board: CardHand, card: ReadCard, mend: Mend): EditResult {
  const { player, head } = card;
  switch (mend.do) {
    case 'addRow':
      return board.putRow(player, mend.row);
    case 'narrowRow':
      return narrow(board, card, mend);
    case 'removeRow':
      return board.removeRow(player, mend.row);
    case 'setWhenInDoubt':
      return card.branches.some(({ id }) => id === mend.branch)
        ? board.setCard(player, { ...head, whenInDoubt: mend.branch })
        : unknownBranch();
    case 'setPolicy':
      return board.setCard(player, { ...head, policy: mend.policy });
    case 'setDepths': {
      const branch = routeBranch(card, mend.branch);
      if (!branch) return unknownBranch();
      const { decideBy, breakAt } = mend;
      return board.putBranch(player, { ...branch, decideBy, breakAt });
    }
    case 'setFinish': {
      const branch = routeBranch(card, mend.branch);
      return branch ? board.putBranch(player, { ...branch, finish: mend.finish }) : unknownBranch();
    }
  }
}

function narrow(
  board: CardHand,
  { player, rows }: ReadCard,
  { row: id, conditions, also }: Extract<Mend, { do: 'narrowRow' }>,
): EditResult {
  const row = rows.find((one) => one.id === id);
  if (!row) return refuse('unknown', 'this row is not on the card');
  if (rows.length + also.length > maxRowsOfCard)
    return refuse('tooMany', `a card holds at most ${maxRowsOfCard} rows`);
  board.putRow(player, { ...row, conditions });
  let after = id;
  for (const rest of also) {
    board.putRow(player, rest, { after });
    after = rest.id;
  }
  return done;
}

const routeBranch = (card: ReadCard, id: Branch['id']) =>
  card.branches.find(
    (branch): branch is Extract<Branch, { kind: 'route' }> =>
      branch.id === id && branch.kind === 'route',
  );

const unknownBranch = (): EditResult => refuse('unknown', 'this branch is not on the card');
