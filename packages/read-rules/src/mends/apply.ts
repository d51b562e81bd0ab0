import type { Branch, BranchId, ReadCard, Row, RowId } from '../card.ts';
import type { RuledPlay } from '../ruled-play.ts';
import type { Mend } from './mend.ts';

/** The play with the mend made; the play itself where what it would change is no longer there. */
export function applyMend(play: RuledPlay, mend: Mend): RuledPlay {
  const before = play.cards.find(({ player }) => player === mend.player);
  const after = before && mended(before, mend);
  if (!after || after === before) return play;
  return { ...play, cards: play.cards.map((card) => (card === before ? after : card)) };
}

/** Must agree with `BoardDocument.applyMend`, which writes the same into a document. */
function mended(card: ReadCard, mend: Mend): ReadCard {
  switch (mend.do) {
    case 'addRow':
      return card.rows.some(({ id }) => id === mend.row.id)
        ? { ...card, rows: card.rows.map((row) => (row.id === mend.row.id ? mend.row : row)) }
        : { ...card, rows: [...card.rows, mend.row] };
    case 'narrowRow': {
      const { row: id, conditions, also } = mend;
      const others = new Set(also.map((row) => row.id));
      return withRow(card, id, (row) => [{ ...row, conditions }, ...also], others);
    }
    case 'removeRow':
      return withRow(card, mend.row, () => []);
    case 'setWhenInDoubt':
      return card.branches.some(({ id }) => id === mend.branch)
        ? { ...card, head: { ...card.head, whenInDoubt: mend.branch } }
        : card;
    case 'setPolicy':
      return { ...card, head: { ...card.head, policy: mend.policy } };
    case 'setDepths': {
      const { decideBy, breakAt } = mend;
      return withBranch(card, mend.branch, { decideBy, breakAt });
    }
    case 'setFinish':
      return withBranch(card, mend.branch, { finish: mend.finish });
  }
}

function withRow(
  card: ReadCard,
  id: RowId,
  into: (row: Row) => readonly Row[],
  without: ReadonlySet<RowId> = new Set(),
): ReadCard {
  if (!card.rows.some((row) => row.id === id)) return card;
  const rows = card.rows.flatMap((row) =>
    row.id === id ? into(row) : without.has(row.id) ? [] : [row],
  );
  return { ...card, rows };
}

function withBranch(
  card: ReadCard,
  id: BranchId,
  change: Partial<Extract<Branch, { kind: 'route' }>>,
): ReadCard {
  if (!card.branches.some((branch) => branch.id === id && branch.kind === 'route')) return card;
  return {
    ...card,
    branches: card.branches.map((branch) =>
      branch.id === id && branch.kind === 'route' ? { ...branch, ...change } : branch,
    ),
  };
}
