import { positionAt } from '@stemline/football/footwork/timed-path';
import { distance } from '@stemline/football/geometry';
import type { Player } from '@stemline/football/play';
import type { ReceiverClock } from '../clock/receiver-clock.ts';
import { spacing } from '../clock/values.ts';
import type { Finding } from '../finding.ts';
import type { Way } from '../throws/ways.ts';
import { elementOf, nameOf, ofLooks, placeOf, seconds } from '../throws/words.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

interface Near {
  readonly other: Player;
  readonly apart: number;
  readonly picture: Way;
}

/** So near that the two are in each other's way; up to the spacing one defender plays both. Yards. */
const inTheWay = 1.5;

/** Another receiver stands by the man the ball is thrown to when it comes. */
export function crowded({ planned, pictures, looks, others }: OnThrow): Finding[] {
  const ball = planned.balls.usual;
  if (!ball) return [];
  const apartOn = new Map<ReceiverClock, number>();
  const apart = (clock: ReceiverClock): number => {
    const known = apartOn.get(clock) ?? distance(positionAt(clock.path, ball.caught), ball.to);
    apartOn.set(clock, known);
    return known;
  };
  const going = others.filter(
    ({ player, ways }) =>
      player.id !== planned.receiver.id &&
      player.id !== planned.passer.player.id &&
      ways.some((clock) => apart(clock) < spacing.value),
  );
  if (going.length === 0) return [];
  const near = pictures.flatMap((picture): Near[] => {
    let least: Near | null = null;
    for (const { player, in: clockIn } of going) {
      const clock = clockIn(picture);
      if (clock && apart(clock) < (least?.apart ?? spacing.value))
        least = { other: player, apart: apart(clock), picture };
    }
    return least ? [least] : [];
  });
  const [worst] = [...near].sort((a, b) => a.apart - b.apart);
  if (!worst) return [];
  const { other, picture } = worst;
  return [
    {
      id: findingId('crowded', [...placeOf(planned), other.id]),
      kind: 'crowded',
      severity: worst.apart < inTheWay ? 'warn' : 'note',
      elements: [elementOf(planned), { kind: 'route', player: other.id }],
      says: `${nameOf(planned)} is crowded: when the ball comes, ${seconds(ball.caught)} after the snap, ${other.label} is ${yards(worst.apart)} yd from him, and one defender can play both. So against ${ofLooks(
        near.map((one) => one.picture),
        looks,
      )}.`,
      mend: `Bring them ${yards(spacing.value)} yd apart at the least: another depth for ${other.label}, or a wider split.`,
      witness: {
        look: picture.look,
        reactions: picture.reactions,
        says: `${other.label} is ${yards(worst.apart)} yd from ${planned.receiver.label} at the catch`,
      },
    },
  ];
}
