import type { AlignedLook } from '@stemline/football/look';
import type { BranchId, ReadCard, Row, RowId } from '../card.ts';
import { branchOf } from '../evaluate.ts';
import type { Element } from '../finding.ts';
import type { Proof } from '../prove.ts';
import { rowNumber } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import type { ReaderCard } from '../same-page/reader-card.ts';

/** What every check of one card starts from. The card's player is on the field. */
export interface OnCard {
  readonly play: RuledPlay;
  readonly card: ReadCard;
  /** His label on the drawing. */
  readonly who: string;
  /** The shelf, aligned to this play. */
  readonly looks: readonly AlignedLook[];
  /** The card as it is read, and what is proved of it; null where it starts from nobody on the field. */
  readonly reader: ReaderCard | null;
  readonly proof: Proof | null;
}

export const cardElement = ({ player }: ReadCard): Element => ({ kind: 'card', player });
export const rowElement = ({ player }: ReadCard, row: RowId): Element => ({
  kind: 'row',
  player,
  row,
});
export const branchElement = ({ player }: ReadCard, branch: BranchId): Element => ({
  kind: 'branch',
  player,
  branch,
});

/** "row 3". */
export const rowName = (card: ReadCard, row: RowId): string => `row ${rowNumber(card, row)}`;

/** What a row leads to, as the players say it. */
export const leadsTo = (card: ReadCard, row: Row): string =>
  branchOf(card, row.branch)?.name ?? row.branch;
