import { ballX } from './field.ts';
import { lineHalf, type Side, signOf } from './offensive-line.ts';
import { isLineman, type Play, type Player } from './play.ts';
import { atSnap, ballAt, passer } from './snap.ts';

/** Outside in: the first is #1. */
export interface Receivers {
  readonly left: readonly Player[];
  readonly right: readonly Player[];
}

/** A man no further outside the tackle than this, and off the line, is in the backfield. Yards. */
const boxMargin = 0.7;

/** Two receivers within this width are a stack: the one nearer the line is counted first. Yards. */
const stackWidth = 0.5;

/**
 * Everyone who has left the backfield, counted on each side from the sideline in, after motion.
 * Tight ends count; a back behind the line does not (see `backs`), nor does the man under the ball.
 */
export function receivers(play: Play): Receivers {
  return { left: countedOn(play, 'left'), right: countedOn(play, 'right') };
}

/** Those behind the line who may go out but are not the passer, nearest the line first. */
export function backs(play: Play): readonly Player[] {
  const fromBall = (player: Player): number => Math.abs(player.at[0] - ballX(play.situation));
  return skillPlayers(play)
    .filter((player) => !sideOf(play, player))
    .sort((a, b) => b.at[1] - a.at[1] || fromBall(a) - fromBall(b));
}

/** The receivers and then the backs, to whichever side each back is offset: "the back is #3". */
export function receiversWithBacks(play: Play): Receivers {
  const { left, right } = receivers(play);
  const behind = backs(play);
  const ball = ballX(play.situation);
  return {
    left: [...left, ...behind.filter((back) => back.at[0] < ball)],
    right: [...right, ...behind.filter((back) => back.at[0] > ball)],
  };
}

function countedOn(play: Play, side: Side): readonly Player[] {
  const ball = ballX(play.situation);
  const width = (player: Player): number => signOf(side) * (player.at[0] - ball);
  const outsideIn = skillPlayers(play)
    .filter((player) => sideOf(play, player) === side)
    .sort((a, b) => width(b) - width(a) || b.at[1] - a.at[1]);
  return stacksByDepth(outsideIn, width);
}

/** Everybody at the snap but the linemen and the passer. */
function skillPlayers(play: Play): Player[] {
  const players = atSnap(play);
  const takesSnap = passer(players, ballAt(play));
  return players.filter(({ id, position }) => !isLineman(position) && id !== takesSnap?.id);
}

/** The side on which a player stands as a receiver, or null for a man in the backfield. */
function sideOf(play: Play, player: Player): Side | null {
  const offset = player.at[0] - ballX(play.situation);
  const side: Side = offset > 0 ? 'right' : 'left';
  return Math.abs(offset) > lineHalf(play, side).tackle + boxMargin ? side : null;
}

/** Within a stack the man on, or nearest, the line is counted first: he is the point. */
function stacksByDepth(
  outsideIn: readonly Player[],
  width: (player: Player) => number,
): readonly Player[] {
  const stacks: Player[][] = [];
  for (const player of outsideIn) {
    const stack = stacks.at(-1);
    const first = stack?.[0];
    if (stack && first && width(first) - width(player) <= stackWidth) stack.push(player);
    else stacks.push([player]);
  }
  return stacks.flatMap((stack) => stack.sort((a, b) => b.at[1] - a.at[1]));
}

/** What decided the strength of a formation. */
export type StrengthReason = 'receivers' | 'field' | 'tightEnd' | 'back' | 'spread' | 'custom';

/**
 * The passing strength: more receivers; if even, the wide side of the field; then the side with a
 * tight end; then away from an offset back; then the side whose receivers are spread wider. A
 * formation that is the same on both sides is called right, by custom. Common practice, no single source.
 */
export function strengthWithReason(play: Play): { side: Side; because: StrengthReason } {
  const { left, right } = receivers(play);
  const ball = ballX(play.situation);
  const spread = (side: readonly Player[]): number =>
    side.reduce((sum, player) => sum + Math.abs(player.at[0] - ball), 0);
  const offset = backs(play).reduce((sum, back) => sum + back.at[0] - ball, 0);
  const tight = Number(lineHalf(play, 'right').tightEnd) - Number(lineHalf(play, 'left').tightEnd);
  const scales: readonly [StrengthReason, number][] = [
    ['receivers', right.length - left.length],
    ['field', -ball],
    ['tightEnd', tight],
    ['back', Math.abs(offset) < 0.25 ? 0 : -offset],
    ['spread', spread(right) - spread(left)],
  ];
  const tipped = scales.find(([, tip]) => Math.abs(tip) > 1e-9);
  return tipped
    ? { side: tipped[1] > 0 ? 'right' : 'left', because: tipped[0] }
    : { side: 'right', because: 'custom' };
}

export const strength = (play: Play): Side => strengthWithReason(play).side;
