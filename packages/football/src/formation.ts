import { receiverNumbers } from './count.ts';
import { ballX, fieldOf, halfWidth } from './field.ts';
import { catalog } from './formations/catalog.ts';
import type { Formation, Place, Spot } from './formations/spec.ts';
import { playerIdSchema } from './ids.ts';
import { type Side, signOf, usualSplit } from './offensive-line.ts';
import type { Play, Player, Position, Situation } from './play.ts';

export type { Formation } from './formations/spec.ts';

/** On which part of which field men line up. */
export type Ground = Pick<Situation, 'code' | 'spot'>;

export const formations: readonly Formation[] = catalog;

/** The furthest from the ball that a widest man stands to the field: a throw across, not more. Yards. */
const widestSplit = 20;

/** Room he keeps to the sideline into the boundary. Yards. */
const sidelineRoom = 3;

/** The eleven of a formation, on their spots for this ball; empty where no formation has the id. */
export function playersOf(
  formationId: string,
  { strength, situation }: { strength: Side; situation: Ground },
): Player[] {
  const formation = formations.find(({ id }) => id === formationId);
  if (!formation) return [];
  const { skill } = formation;
  return [...line(formation, strength), ...skill].map(({ label, position, number, place }) => ({
    id: playerIdSchema.parse(label.toLowerCase()),
    label,
    position,
    number,
    at: placed(place, strength, situation, formation),
  }));
}

/** How many receivers stand to each side after motion, and the usual name: the larger side first. */
export function structureOf(play: Play): { left: number; right: number; name: string } {
  const { left, right } = receiverNumbers(play);
  return { left, right, name: `${Math.max(left, right)}x${Math.min(left, right)}` };
}

/** How many linemen stand to a side of the ball. */
const blockers = (formation: Formation, side: 'strong' | 'weak'): number =>
  !formation.unbalanced ? 2 : side === 'strong' ? 3 : 1;

function placed(
  place: Place,
  strength: Side,
  situation: Ground,
  formation: Formation,
): Player['at'] {
  const ball = ballX(situation);
  const strong = signOf(strength);
  if (place.kind === 'backfield') return [tidy(ball + strong * place.yards), -place.depth];
  const out = place.side === 'strong' ? strong : -strong;
  const tackle = usualSplit * blockers(formation, place.side);
  const wide = widest(out, ball, situation);
  const from =
    place.kind === 'wide'
      ? wide
      : place.kind === 'slot'
        ? tackle + place.share * (wide - tackle)
        : tackle + place.yards;
  return [tidy(ball + out * from), -place.depth];
}

/** Distance from the ball of the widest man on one side. */
function widest(out: 1 | -1 | number, ball: number, { code }: Ground): number {
  const numbers = halfWidth - fieldOf(code).numbers.bottom;
  const toNumbers = numbers - out * ball;
  const toSideline = halfWidth - sidelineRoom - out * ball;
  return Math.min(Math.max(toNumbers, 10), widestSplit, toSideline);
}

/** The five inside. The labels say on which side of the centre a man stands. */
function line(formation: Formation, strength: Side): Spot[] {
  const man = (label: string, position: Position, number: number, steps: number): Spot => ({
    label,
    position,
    number,
    place: {
      kind: 'backfield',
      yards: signOf(strength) * steps * usualSplit,
      depth: position === 'C' ? 0.4 : 0.5,
    },
  });
  const [leftTackle, rightTackle] = !formation.unbalanced
    ? [-2, 2]
    : strength === 'right'
      ? [3, 2]
      : [-2, -3];
  return [
    man('LT', 'T', 72, leftTackle),
    man('LG', 'G', 66, -1),
    man('C', 'C', 55, 0),
    man('RG', 'G', 64, 1),
    man('RT', 'T', 76, rightTackle),
  ];
}

/** Centimetres are enough; -0 becomes 0. */
const tidy = (yards: number): number => Math.round(yards * 100) / 100 + 0;
