import type { AlignedLook } from '@stemline/football/look';
import type { RuledPlay } from '../ruled-play.ts';

/** What every check of a play as a whole starts from. */
export interface OnPlay {
  readonly play: RuledPlay;
  /** The shelf, aligned to this play. */
  readonly looks: readonly AlignedLook[];
}
