import { ballX } from './field.ts';
import { lineHalf, type Side } from './offensive-line.ts';
import { type Formation, perFormation } from './per-formation.ts';
import { isLineman, type Player } from './play.ts';
import { atSnap, ballAt, passer } from './snap.ts';

/** Outside in: the first is #1. */
export interface Receivers {
  readonly left: readonly Player[];
  readonly right: readonly Player[];
}

/** How far outside the tackle a man still belongs to the backfield: near the line, and deep behind it. Yards. */
const backfieldMargin = { shallow: 0.7, deep: 2.5 };

/** From this depth on a man is deep behind the line. Yards. */
const deepFrom = 3;

/** Two receivers within this width are a stack: the one nearer the line is counted first. Yards. */
const stackWidth = 0.5;

/**
 * Everyone who has left the backfield, counted on each side from the sideline in, after motion.
 * Tight ends count; a back behind the line does not (see `backs`), nor does the passer.
 */
export const receivers = perFormation((play): Receivers => {
  const ball = ballX(play.situation);
  const { left, right } = bySide(play);
  return {
    left: outsideIn(left, ({ at }) => ball - at[0]),
    right: outsideIn(right, ({ at }) => at[0] - ball),
  };
});

/** How many of `receivers` stand to each side: less work than to count them off. */
export function receiverNumbers(play: Formation): Readonly<Record<Side, number>> {
  const { left, right } = bySide(play);
  return { left: left.length, right: right.length };
}

/** Those behind the line who may go out but are not the passer, nearest the line first. */
export const backs = perFormation((play): readonly Player[] => {
  const ball = ballX(play.situation);
  return [...bySide(play).backfield].sort(
    (a, b) => b.at[1] - a.at[1] || Math.abs(a.at[0] - ball) - Math.abs(b.at[0] - ball),
  );
});

/** The receivers and then the backs, to whichever side each back is offset: "the back is #3". */
export function receiversWithBacks(play: Formation): Receivers {
  const { left, right } = receivers(play);
  const behind = backs(play);
  const ball = ballX(play.situation);
  return {
    left: [...left, ...behind.filter((back) => back.at[0] < ball)],
    right: [...right, ...behind.filter((back) => back.at[0] > ball)],
  };
}

/** Everybody at the snap but the linemen and the passer, in no order. */
const bySide = perFormation((play): Readonly<Record<Side | 'backfield', readonly Player[]>> => {
  const players = atSnap(play);
  const takesSnap = passer(players, ballAt(play));
  const ball = ballX(play.situation);
  const tackle = { left: lineHalf(play, 'left').tackle, right: lineHalf(play, 'right').tackle };
  const sorted: Record<Side | 'backfield', Player[]> = { left: [], right: [], backfield: [] };
  for (const player of players) {
    if (isLineman(player.position) || player.id === takesSnap?.id) continue;
    const side: Side = player.at[0] > ball ? 'right' : 'left';
    const margin = -player.at[1] >= deepFrom ? backfieldMargin.deep : backfieldMargin.shallow;
    const isOut = Math.abs(player.at[0] - ball) > tackle[side] + margin;
    sorted[isOut ? side : 'backfield'].push(player);
  }
  return sorted;
});

function outsideIn(
  players: readonly Player[],
  width: (player: Player) => number,
): readonly Player[] {
  const byWidth = [...players].sort((a, b) => width(b) - width(a) || b.at[1] - a.at[1]);
  return stacksByDepth(byWidth, width);
}

/** Within a stack the man on, or nearest, the line is counted first: he is the point. */
function stacksByDepth(
  byWidth: readonly Player[],
  width: (player: Player) => number,
): readonly Player[] {
  const stacks: Player[][] = [];
  for (const player of byWidth) {
    const stack = stacks.at(-1);
    const first = stack?.[0];
    if (stack && first && width(first) - width(player) <= stackWidth) stack.push(player);
    else stacks.push([player]);
  }
  return stacks.flatMap((stack) => stack.sort((a, b) => b.at[1] - a.at[1]));
}

/** What decided the strength of a formation. */
export type StrengthReason =
  | 'receivers'
  | 'field'
  | 'line'
  | 'tightEnd'
  | 'back'
  | 'spread'
  | 'custom';

/**
 * The passing strength: more receivers; if even, the wide side of the field; then the side with more
 * of the line, or with a tight end; then away from an offset back; then the side whose receivers are spread wider. A
 * formation that is the same on both sides is called right, by custom. Common practice, no single source.
 */
export function strengthWithReason(play: Formation): { side: Side; because: StrengthReason } {
  const { left, right } = receivers(play);
  const ball = ballX(play.situation);
  const spread = (side: readonly Player[]): number =>
    side.reduce((sum, player) => sum + Math.abs(player.at[0] - ball), 0);
  const offset = backs(play).reduce((sum, back) => sum + back.at[0] - ball, 0);
  const tight = Number(lineHalf(play, 'right').tightEnd) - Number(lineHalf(play, 'left').tightEnd);
  const blockers = atSnap(play).flatMap(({ position, at }) =>
    isLineman(position) && position !== 'C' ? [at[0] - ball] : [],
  );
  const scales: readonly [StrengthReason, number][] = [
    ['receivers', right.length - left.length],
    ['field', -ball],
    ['line', blockers.filter((x) => x > 0).length - blockers.filter((x) => x < 0).length],
    ['tightEnd', tight],
    ['back', Math.abs(offset) < 0.25 ? 0 : -offset],
    ['spread', spread(right) - spread(left)],
  ];
  const tipped = scales.find(([, tip]) => Math.abs(tip) > 1e-9);
  return tipped
    ? { side: tipped[1] > 0 ? 'right' : 'left', because: tipped[0] }
    : { side: 'right', because: 'custom' };
}

export const strength = (play: Formation): Side => strengthWithReason(play).side;
