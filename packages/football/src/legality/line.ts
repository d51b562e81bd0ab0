import type { Play, Player } from '../play.ts';
import { atSnap, ballAt, snapper } from '../snap.ts';
import { type Book, books } from './book.ts';

/** On the line: no further back than this. The drawn stand-in for "breaks the plane of the snapper's waist". Yards. */
export const onLineFrom = -0.75;

/** A back: this far behind the line, or further. Between the two is nobody's land. Yards. */
export const backFrom = -1;

/** How near straight behind the snapper a man stands to take the ball from his hands. Yards. */
const handToHand = { across: 0.6, behind: 2 };

/** The offence at the snap, sorted as a rule book sorts it. */
export interface SnapFormation {
  readonly book: Book;
  readonly players: readonly Player[];
  /** From left to right. */
  readonly onLine: readonly Player[];
  /** The man under the snapper among them, wherever he crouches. */
  readonly backs: readonly Player[];
  /** Neither on the line nor a back. */
  readonly neither: readonly Player[];
  readonly snapper: Player | null;
  /** The one whose hands are under the snapper. */
  readonly underCentre: Player | null;
}

export function snapFormation(play: Play): SnapFormation {
  const players = atSnap(play);
  const snaps = snapper(players, ballAt(play));
  const underCentre = snaps
    ? (players.find(
        ({ at }) =>
          at[1] < onLineFrom &&
          Math.abs(at[0] - snaps.at[0]) <= handToHand.across &&
          snaps.at[1] - at[1] <= handToHand.behind,
      ) ?? null)
    : null;
  const isBack = (player: Player): boolean => player.at[1] <= backFrom || player === underCentre;
  const isOnLine = (player: Player): boolean => player.at[1] >= onLineFrom;
  return {
    book: books[play.situation.code],
    players,
    onLine: players.filter(isOnLine).sort((a, b) => a.at[0] - b.at[0]),
    backs: players.filter(isBack),
    neither: players.filter((player) => !isBack(player) && !isOnLine(player)),
    snapper: snaps,
    underCentre,
  };
}

/** Numbers that may catch a forward pass. */
export const hasEligibleNumber = (book: Book, { number }: Player): boolean =>
  !book.ineligibleNumbers.ranges.some(([from, to]) => number >= from && number <= to);

/** Who may catch a forward pass: the two ends of the line and the backs, by position and by number. */
export function eligibleReceivers(play: Play): readonly Player[] {
  const { book, onLine, backs, underCentre } = snapFormation(play);
  const ends = onLine.filter((_, i) => i === 0 || i === onLine.length - 1);
  return [...ends, ...backs].filter(
    (player) =>
      hasEligibleNumber(book, player) &&
      (book.underCentreEligible.isEligible || player !== underCentre),
  );
}
