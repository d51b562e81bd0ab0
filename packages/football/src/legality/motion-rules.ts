import { add, type Point } from '../geometry.ts';
import type { Motion, Play, Player } from '../play.ts';
import { type Book, books } from './book.ts';
import type { Illegality } from './illegality.ts';
import { backFrom, onLineFrom } from './line.ts';

/** Drawn upfield by no more than this, a man in motion still goes along the line. Yards. */
const alongTolerance = 0.1;

interface Mover {
  readonly player: Player;
  readonly motion: Motion;
  /** Where he is at the snap. */
  readonly end: Point;
}

/** What the play's book has against its men on the move at the snap. A shift that is set again is legal in all three. */
export function motionRules(play: Play): readonly Illegality[] {
  const book = books[play.situation.code];
  const movers = play.players.flatMap((player): Mover[] => {
    const motion = play.motions[player.id];
    const last = motion?.path.at(-1);
    return motion && last && motion.atSnap === 'moving'
      ? [{ player, motion, end: add(player.at, last) }]
      : [];
  });
  return [...oneOnly(movers, book), ...movers.flatMap((mover) => oneMover(mover, book))];
}

function oneOnly(movers: readonly Mover[], { motion }: Book): Illegality[] {
  if (movers.length <= 1) return [];
  const labels = movers.map(({ player }) => player.label).join(', ');
  return [
    {
      rule: 'motionCount',
      weight: 'foul',
      says: `${movers.length} men are on the move at the snap (${labels}); one may be.`,
      players: movers.map(({ player }) => player.id),
      of: 'motion',
      source: motion.source,
    },
  ];
}

function oneMover({ player, motion, end }: Mover, book: Book): Illegality[] {
  const found: Illegality[] = [];
  const says = (rule: string, words: string, source: string): void => {
    found.push({
      rule,
      weight: 'foul',
      says: `${player.label} ${words}`,
      players: [player.id],
      of: 'motion',
      source,
    });
  };
  const before = motion.path.at(-2) ?? [0, 0];
  const last = motion.path.at(-1) ?? before;
  if (last[1] - before[1] > alongTolerance)
    says('motionToward', 'moves toward the line at the snap.', book.motion.source);
  const startedOnLine = player.at[1] >= onLineFrom;
  const { enoughBehind, source } = book.motionFromLine;
  if (startedOnLine && enoughBehind === null)
    says('motionFromLine', 'starts from the line: he must set as a back first.', source);
  else if (startedOnLine && enoughBehind !== null && end[1] > -enoughBehind)
    says(
      'motionFromLine',
      `starts from the line: he must be ${enoughBehind} yards behind it at the snap, or set as a back first.`,
      source,
    );
  else if (end[1] > backFrom)
    says('motionOnLine', 'is in motion on the line: only a back may be.', book.motion.source);
  return found;
}
