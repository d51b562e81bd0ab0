import { isLineman } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import type { ReceiverClock } from '../clock/receiver-clock.ts';
import type { Finding } from '../finding.ts';
import { isRoute } from '../reader.ts';
import { picturesOf } from '../throws/pictures.ts';
import { progressionOf } from '../throws/planned.ts';
import { crowded } from './crowded.ts';
import { early } from './early.ts';
import { late } from './late.ts';
import type { OnPlay } from './on-play.ts';
import type { Going, OnThrow } from './on-throw.ts';
import { outOfReach } from './out-of-reach.ts';
import { outOfRoom } from './out-of-room.ts';
import { undercut } from './undercut.ts';

/** Everything that is asked of a throw, in the order in which it is told. */
const checksOfAThrow: readonly ((on: OnThrow) => readonly Finding[])[] = [
  late,
  early,
  outOfRoom,
  outOfReach,
  crowded,
  undercut,
];

/** The throws of a play by the clock: each worked out once, then asked about. */
export function timing(on: OnPlay): readonly Finding[] {
  const { play, looks, cards, clocks, keep } = on;
  const progression = progressionOf(play, clocks, keep);
  if (!progression) return [];
  const thrown = picturesOf(progression, cards, looks);
  const others = goingOf(on);
  return checksOfAThrow.flatMap((ask) =>
    thrown.flatMap((one) => ask({ ...one, looks: looks.length, others })),
  );
}

/** Everybody who runs somewhere, by his drawing or by his card. */
function goingOf({ play, cards, clocks }: OnPlay): readonly Going[] {
  return atSnap(play).flatMap((player): Going[] => {
    if (isLineman(player.position)) return [];
    const card = play.cards.find((one) => one.player === player.id);
    if (!card && !play.routes[player.id]) return [];
    const reader = cards.find((one) => one.card === card);
    const drawn = clocks.drawn(player);
    const branches = (card?.branches ?? []).filter(isRoute);
    const onBranches = branches.map((branch) => clocks.on(player, branch));
    return [
      {
        player,
        ways: drawn ? [drawn, ...onBranches] : onBranches,
        in: ({ look, man, does }): ReceiverClock | null => {
          const branch = reader?.before(look).when(man, does).branch;
          return branch && isRoute(branch) ? clocks.on(player, branch) : drawn;
        },
      },
    ];
  });
}
