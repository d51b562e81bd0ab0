import type { AlignedLook } from '@stemline/football/look';
import { afresh, type Keep } from '../keep.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { type ReaderCard, readerCards } from '../same-page/reader-card.ts';
import { Clocks } from '../throws/clocks.ts';

/** What every check of a play as a whole starts from. */
export interface OnPlay {
  readonly play: RuledPlay;
  /** The shelf, aligned to this play. */
  readonly looks: readonly AlignedLook[];
  /** Every card that can be read, in the order of the cards. */
  readonly cards: readonly ReaderCard[];
  readonly clocks: Clocks;
  readonly keep: Keep;
}

export const onPlay = (play: RuledPlay, looks: readonly AlignedLook[]): OnPlay => ({
  play,
  looks,
  cards: readerCards(play),
  clocks: new Clocks(play),
  keep: afresh,
});
