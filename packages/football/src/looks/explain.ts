import { distance, type Point } from '../geometry.ts';
import type { Level } from '../look.ts';
import type { Play } from '../play.ts';
import type { DrawnDefender } from './drawn.ts';
import { outSign, type Picture, pictureOf } from './picture.ts';
import { type Anchor, type Flank, flankSchema, type Stand, techniqueSchema } from './recipe.ts';
import { depthFor, roomBehind, standAt } from './stand.ts';

/** One rule that puts a man where he was drawn. */
export interface Explanation {
  readonly at: Stand;
  /** What moves him when the formation changes. `field`: nothing but the ball. */
  readonly follows: 'receiver' | 'line' | 'formation' | 'field';
  /** In a coach's words. */
  readonly says: string;
  /** Yards between where he was drawn and where the rule puts him. */
  readonly off: number;
}

/** A rule explains a place if it puts the man no further from it than this. Yards. */
export const explainedWithin = 0.25;

/**
 * Every rule that explains where a man stands, the likeliest for a man of his level first. The last
 * resort, so many yards from the ball, is always among them.
 */
export const explanationsOf = (play: Play, man: DrawnDefender): readonly Explanation[] =>
  explain(man, pictureOf(play));

export function explain(
  { level, at }: Pick<DrawnDefender, 'level' | 'at'>,
  picture: Picture,
): readonly Explanation[] {
  const spot = picture.turn(at);
  return candidates(spot, picture)
    .flatMap((stand) => {
      const place = standAt(stand, picture, null);
      const off = place ? distance(roomBehind(place, picture), spot) : Number.POSITIVE_INFINITY;
      return off <= explainedWithin
        ? [{ at: stand, off, unlikely: unlikelihood(stand, level, spot, picture) + off }]
        : [];
    })
    .sort((a, b) => a.unlikely - b.unlikely)
    .map(({ at: stand, off }) => ({
      at: stand,
      follows: follows[stand.kind],
      says: wordsOf(stand, picture),
      off,
    }));
}

const follows: Readonly<Record<Stand['kind'], Explanation['follows']>> = {
  over: 'receiver',
  apex: 'receiver',
  onMan: 'receiver',
  technique: 'line',
  edge: 'line',
  shell: 'formation',
  post: 'field',
  fromBall: 'field',
};

/** Whether a rule needs nobody of the offence to be anywhere. */
export const isAnchor = (stand: Stand): stand is Anchor =>
  stand.kind !== 'over' && stand.kind !== 'apex' && stand.kind !== 'onMan';

/** Every rule there is, with the numbers that this spot asks for. */
function candidates(spot: Point, picture: Picture): readonly Stand[] {
  const { ball, line, receivers } = picture;
  const depth = depthFor(spot[1], picture);
  const onFlank = (side: Flank): Stand[] => {
    const out = outSign(side);
    const fromBall = out * (spot[0] - ball);
    const toEdge = fromBall - line[side].edge;
    return [
      ...techniqueSchema.options.map(
        (technique): Stand => ({ kind: 'technique', side, technique, depth }),
      ),
      ...within<Stand>(toEdge, -3, 12, { kind: 'edge', side, yards: toEdge, depth }),
      ...within<Stand>(fromBall, 0, 60, { kind: 'fromBall', side, yards: fromBall, depth }),
      { kind: 'shell', side, depth },
      ...receivers[side].flatMap((player, i): Stand[] => {
        const inside = out * (player.at[0] - spot[0]);
        const receiver = i + 1;
        return receiver > 5
          ? []
          : [
              ...within<Stand>(inside, -4, 6, { kind: 'over', side, receiver, inside, depth }),
              { kind: 'apex', side, receiver, toward: 'inside', depth },
              { kind: 'apex', side, receiver, toward: 'outside', depth },
            ];
      }),
    ];
  };
  return [...flankSchema.options.flatMap(onFlank), { kind: 'post', depth }];
}

const within = <S>(value: number, from: number, to: number, stand: S): S[] =>
  value >= from && value <= to ? [stand] : [];

/** A man this far outside the end of the line is still in the box, and this shallow. Yards. */
const boxMargin = 0.7;
const boxDepth = 7;

/**
 * How unlikely a staff means this rule by a man of this level on this spot; only the order counts.
 * Fronts are told by technique, corners by their receiver, apex men by what they stand between, deep
 * men by the shell. Common practice, no single source.
 */
function unlikelihood(stand: Stand, level: Level, spot: Point, picture: Picture): number {
  const side: Flank = spot[0] >= picture.ball ? 'strong' : 'weak';
  const inBox =
    spot[1] < boxDepth && Math.abs(spot[0] - picture.ball) <= picture.line[side].edge + boxMargin;
  // A rule of the other side counts from there only where nothing on his own explains him.
  const across = 'side' in stand && stand.side !== side ? 3 : 0;
  return across + usual(stand, level, inBox);
}

function usual(stand: Stand, level: Level, inBox: boolean): number {
  const byLevel = { line: 0, second: 1, corner: 2, deep: 3 }[level];
  const cost = (...costs: readonly [number, number, number, number]): number => costs[byLevel] ?? 0;
  switch (stand.kind) {
    case 'technique':
      return inBox ? cost(0, 0, 3, 3) : cost(1, 3, 4, 2);
    case 'edge':
      return cost(0.5, inBox ? 1.5 : 1, 2, 3) + 0.15 * Math.abs(stand.yards);
    case 'apex':
      return inBox ? cost(5, 1.5, 3, 2) : cost(4, 0, 2, 1.5);
    case 'over':
      return (
        (inBox ? cost(3, 1, 0, 1) : cost(2, 0.4, 0, 0.5)) +
        0.25 * Math.abs(stand.inside) +
        (level === 'corner' && stand.receiver > 1 ? 1 : 0)
      );
    case 'shell':
      return cost(9, 9, 5, 0.2);
    case 'post':
      return cost(9, 9, 6, 0);
    case 'onMan':
    case 'fromBall':
      return 4;
  }
}

const yards = (n: number): string => `${Number(Math.abs(n).toFixed(1))} yd`;

function wordsOf(stand: Stand, { receivers }: Picture): string {
  const whom = (flank: Flank, number: number): string =>
    receivers[flank][number - 1]?.label ?? `#${number}`;
  switch (stand.kind) {
    case 'technique':
      return `in a ${stand.technique} technique to the ${stand.side} side`;
    case 'edge':
      return `${yards(stand.yards)} ${stand.yards < 0 ? 'inside' : 'outside'} the end of the ${stand.side} side of the line`;
    case 'post':
      return 'in the deep middle';
    case 'shell':
      return `deep to the ${stand.side} side, over #2 or between #1 and the tackle`;
    case 'fromBall':
      return `${yards(stand.yards)} from the ball to the ${stand.side} side`;
    case 'apex':
      return `half-way between ${whom(stand.side, stand.receiver)} and the next man ${stand.toward}`;
    case 'over':
      return Math.abs(stand.inside) < 0.05
        ? `head-up over ${whom(stand.side, stand.receiver)}`
        : `${yards(stand.inside)} ${stand.inside > 0 ? 'inside' : 'outside'} of ${whom(stand.side, stand.receiver)}`;
    case 'onMan':
      return 'over the man he takes';
  }
}
