import { type Drop, dropOf, usualDrops } from '@stemline/football/footwork/drop';
import type { Point } from '@stemline/football/geometry';
import type { Play, Player } from '@stemline/football/play';
import { atSnap, ballAt, passer } from '@stemline/football/snap';
import { holdsBall } from './values.ts';

/** Where and when the passer throws. */
export interface PasserClock {
  readonly player: Player;
  readonly drop: Drop;
  /** Where he throws from, absolute. */
  readonly spot: Point;
}

/** Who takes the snap this near to the ball has his hands under the centre. Yards. */
const underCentre = 2.5;

/** The man who throws: whoever takes the snap; null where nobody does. */
export const passerOf = (play: Play): Player | null => passer(atSnap(play), ballAt(play));

/** The drops that start as this passer stands, the shortest first; a boot is nobody's usual drop. */
export const dropsFrom = ({ at }: Player): readonly Drop[] =>
  usualDrops.filter(
    ({ snap, width }) =>
      width.to === 0 && snap === (-at[1] < underCentre ? 'underCentre' : 'shotgun'),
  );

/** A first man by whom a drop is chosen. */
export interface First {
  /** How deep past the line he breaks. */
  readonly depth: number;
  /** From when on the ball can come to him, seconds. */
  readonly ready: number;
  /** He has a choice: the passer waits until he sees it. */
  readonly reads: boolean;
  /** Where he breaks or runs to, across the field. */
  readonly across: number;
}

/**
 * The drop that is called, toward the first man if it goes to a side. Where none is called, the one
 * that fits him: the shortest whose routes are as deep, and one longer for a break that this one
 * would not wait for, so that nobody is called late for want of a drop on the drawing.
 */
export function passerClock(play: Play, player: Player, first: First): PasserClock {
  const drop = dropOf(play.drop) ?? fittingDrop(player, first);
  const depth = Math.max(-player.at[1], (drop.depth.from + drop.depth.to) / 2);
  const wide = (drop.width.from + drop.width.to) / 2;
  const side = first.across < player.at[0] ? -1 : 1;
  return { player, drop, spot: [player.at[0] + side * wide, -depth] };
}

function fittingDrop(player: Player, first: First): Drop {
  const drops = dropsFrom(player);
  const fits = drops.findIndex(({ routes }) => first.depth <= routes.to);
  const index = fits === -1 ? drops.length - 1 : fits;
  const fitting = drops[index] as Drop;
  const longer = drops.find(({ ballOut }) => ballOut.to > fitting.ballOut.to);
  const waits = fitting.ballOut.to + (first.reads ? 0 : holdsBall.value);
  return (first.ready > waits && longer) || fitting;
}
