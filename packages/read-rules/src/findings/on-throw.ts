import type { Player } from '@stemline/football/play';
import type { ReceiverClock } from '../clock/receiver-clock.ts';
import type { Thrown } from '../throws/pictures.ts';
import type { Way } from '../throws/ways.ts';

/** What every check of one throw of a play starts from. */
export interface OnThrow extends Thrown {
  /** How many looks the shelf has. */
  readonly looks: number;
  /** Everybody who runs somewhere. */
  readonly others: readonly Going[];
}

/** A man who runs somewhere. */
export interface Going {
  readonly player: Player;
  /** Every way he may run: as drawn, and by each branch of his card. */
  readonly ways: readonly ReceiverClock[];
  /** The way on which he is in a picture: by his card, else as drawn; null where nothing is drawn. */
  readonly in: (picture: Way) => ReceiverClock | null;
}
