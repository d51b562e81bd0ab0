import type { Finding } from '../finding.ts';
import { picturesOf } from '../throws/pictures.ts';
import { progressionOf } from '../throws/planned.ts';
import { crowded } from './crowded.ts';
import { early } from './early.ts';
import { late } from './late.ts';
import type { OnPlay } from './on-play.ts';
import type { OnThrows } from './on-throws.ts';
import { outOfReach } from './out-of-reach.ts';
import { outOfRoom } from './out-of-room.ts';
import { undercut } from './undercut.ts';

/** Everything that is asked of the throws, in the order in which it is told. */
const checksOfThrows: readonly ((on: OnThrows) => readonly Finding[])[] = [
  late,
  early,
  outOfRoom,
  outOfReach,
  crowded,
  undercut,
];

/** The throws of a play by the clock: each worked out once, then asked about. */
export function timing({ play, looks }: OnPlay): readonly Finding[] {
  const progression = progressionOf(play);
  if (!progression) return [];
  const pictures = picturesOf(play, progression, looks);
  const thrown = progression.throws.map((planned) => ({
    planned,
    pictures: pictures.filter((picture) => picture.thrown === planned),
  }));
  return checksOfThrows.flatMap((ask) => ask({ play, looks, thrown }));
}
