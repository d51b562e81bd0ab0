import { positionAt } from '@stemline/football/footwork/timed-path';
import { distance } from '@stemline/football/geometry';
import { isLineman, type Player } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import type { RouteBranch } from '../card.ts';
import { branchClock, drawnClock, type ReceiverClock } from '../clock/receiver-clock.ts';
import { spacing } from '../clock/values.ts';
import type { Finding } from '../finding.ts';
import { type Picture, routeIn } from '../throws/pictures.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import { elementOf, nameOf, ofLooks, placeOf, seconds } from '../throws/words.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrows } from './on-throws.ts';

interface Near {
  readonly other: Player;
  readonly apart: number;
  readonly picture: Picture;
}

/** So near that the two are in each other's way; up to the spacing one defender plays both. Yards. */
const inTheWay = 1.5;

/** Another receiver stands by the man the ball is thrown to when it comes. */
export function crowded({ play, looks, thrown }: OnThrows): Finding[] {
  const cardOf = new Map(play.cards.map((card) => [card.player, card]));
  const going = atSnap(play).filter(
    ({ id, position }) => !isLineman(position) && (play.routes[id] || cardOf.has(id)),
  );
  const drawn = new Map(going.map((player) => [player, drawnClock(play, player)]));
  const branched = new Map<RouteBranch, ReceiverClock>();
  const clockOf = (player: Player, picture: Picture): ReceiverClock | null => {
    const card = cardOf.get(player.id);
    const branch = card && routeIn(picture, card);
    if (!branch) return drawn.get(player) ?? null;
    const clock = branched.get(branch) ?? branchClock(play, player, branch);
    branched.set(branch, clock);
    return clock;
  };
  const nearest = (planned: PlannedThrow, picture: Picture): Near | null => {
    const ball = planned.balls.usual;
    if (!ball) return null;
    let least: Near | null = null;
    for (const other of going) {
      if (other.id === planned.receiver.id || other.id === planned.passer.player.id) continue;
      const clock = clockOf(other, picture);
      if (!clock) continue;
      const apart = distance(positionAt(clock.path, ball.caught), ball.to);
      if (!least || apart < least.apart) least = { other, apart, picture };
    }
    return least && least.apart < spacing.value ? least : null;
  };
  return thrown.flatMap(({ planned, pictures }): Finding[] => {
    const near = pictures.flatMap((picture) => nearest(planned, picture) ?? []);
    const [worst] = [...near].sort((a, b) => a.apart - b.apart);
    const ball = planned.balls.usual;
    if (!worst || !ball) return [];
    const { other, apart, picture } = worst;
    return [
      {
        id: findingId('crowded', [...placeOf(planned), other.id]),
        kind: 'crowded',
        severity: apart < inTheWay ? 'warn' : 'note',
        elements: [elementOf(planned), { kind: 'route', player: other.id }],
        says: `${nameOf(planned, play)} is crowded: when the ball comes, ${seconds(ball.caught)} after the snap, ${other.label} is ${yards(apart)} yd from him, and one defender can play both. So against ${ofLooks(
          near.map((one) => one.picture),
          looks,
        )}.`,
        mend: `Bring them ${yards(spacing.value)} yd apart at the least: another depth for ${other.label}, or a wider split.`,
        witness: {
          look: picture.look,
          reactions: picture.reactions,
          says: `${other.label} is ${yards(apart)} yd from ${planned.receiver.label} at the catch`,
        },
      },
    ];
  });
}
