import { backs, receivers, strength } from '../count.ts';
import { ballX, type Field, fieldOf, halfWidth } from '../field.ts';
import type { Point } from '../geometry.ts';
import { type LineHalf, lineHalf, type Side, signOf } from '../offensive-line.ts';
import type { Formation } from '../per-formation.ts';
import type { Player } from '../play.ts';
import { atSnap, ballAt, passer } from '../snap.ts';
import type { Flank, When } from './recipe.ts';

/**
 * The formation as a defence sees it: the strong side is always +x. A look is aligned in this frame
 * and turned back, so a mirrored play gets the mirrored look without anybody taking care of it.
 */
export interface Picture {
  /** Turns a spot of this frame into one of the field, and back. */
  readonly turn: (spot: Point) => Point;
  readonly ball: number;
  readonly field: Field;
  readonly toGoal: number;
  /** Outside in. */
  readonly receivers: Readonly<Record<Flank, readonly Player[]>>;
  /** Nearest the line first. */
  readonly backs: readonly Player[];
  readonly line: Readonly<Record<Flank, LineHalf>>;
  /** Where a rusher goes: the passer, or five yards behind the ball. */
  readonly rushTo: Point;
}

export function pictureOf(play: Formation): Picture {
  const strong = strength(play);
  const weak: Side = strong === 'right' ? 'left' : 'right';
  const sign = signOf(strong);
  const turn = ([x, y]: Point): Point => [sign * x + 0, y];
  const turned = (players: readonly Player[]): Player[] =>
    players.map((player) => ({ ...player, at: turn(player.at) }));
  const counted = receivers(play);
  const ball = sign * ballX(play.situation) + 0;
  const takesSnap = passer(atSnap(play), ballAt(play));
  return {
    turn,
    ball,
    field: fieldOf(play.situation.code),
    toGoal: play.situation.toGoal,
    receivers: { strong: turned(counted[strong]), weak: turned(counted[weak]) },
    backs: turned(backs(play)),
    line: { strong: lineHalf(play, strong), weak: lineHalf(play, weak) },
    rushTo: takesSnap ? turn(takesSnap.at) : [ball, -5],
  };
}

/** The sign of x that leads outside on a flank. */
export const outSign = (flank: Flank): 1 | -1 => (flank === 'strong' ? 1 : -1);

/** Widest a defender is set: half a yard inside the sideline. */
export const widest = halfWidth - 0.5;

/** Back to the field's own right and left, and to centimetres; -0 becomes 0. */
export const onField = ([x, y]: Point, { turn }: Picture): Point =>
  turn([Math.round(x * 100) / 100, Math.round(y * 100) / 100]);

/** #1 this near the tackle has reduced his split. Yards. Common practice, no single source. */
const reducedWithin = 7.5;

/** Where the tackle of a flank stands. */
export const tackleX = (picture: Picture, flank: Flank): number =>
  picture.ball + outSign(flank) * picture.line[flank].tackle;

export function holds(when: When, picture: Picture): boolean {
  return (
    within(picture.receivers.strong.length, when.strong) &&
    within(picture.receivers.weak.length, when.weak) &&
    within(picture.backs.length, when.backs) &&
    (!when.covered || picture.line[when.covered].isCovered) &&
    (!when.tightEnd || picture.line[when.tightEnd].tightEnd) &&
    (!when.reduced || isReduced(picture, when.reduced))
  );
}

const within = (count: number, range: { from: number; to: number } | undefined): boolean =>
  !range || (count >= range.from && count <= range.to);

function isReduced(picture: Picture, flank: Flank): boolean {
  const first = picture.receivers[flank][0];
  return !!first && Math.abs(first.at[0] - tackleX(picture, flank)) <= reducedWithin;
}
