import type { AlignedLook } from '@stemline/football/look';
import type { RuledPlay } from '../ruled-play.ts';
import type { Picture } from '../throws/pictures.ts';
import type { PlannedThrow } from '../throws/planned.ts';

/** What every check of the throws of one play starts from. */
export interface OnThrows {
  readonly play: RuledPlay;
  /** The shelf, aligned to this play. */
  readonly looks: readonly AlignedLook[];
  /** Every throw with the pictures in which the cards ask for it; none where no look leads to it. */
  readonly thrown: readonly {
    readonly planned: PlannedThrow;
    readonly pictures: readonly Picture[];
  }[];
}
