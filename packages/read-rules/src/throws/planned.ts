import type { PlayerId } from '@stemline/football/ids';
import type { Play, Player } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import type { Branch, ReadCard, RouteBranch } from '../card.ts';
import { type PasserClock, passerClock, passerOf } from '../clock/passer-clock.ts';
import {
  branchClock,
  drawnClock,
  endsAcross,
  type ReceiverClock,
} from '../clock/receiver-clock.ts';
import { anticipates, findsBall, resetsIn } from '../clock/values.ts';
import { isRoute } from '../reader.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { type Balls, ballsTo } from './ball.ts';

/** Somebody the play means to throw to, on one way he may run. Seconds from the snap. */
export interface PlannedThrow {
  readonly receiver: Player;
  /** His card and the branch of it; null for a drawn route. */
  readonly choice: { readonly card: ReadCard; readonly branch: RouteBranch } | null;
  /** His place in the progression, from 0. */
  readonly order: number;
  readonly passer: PasserClock;
  readonly clock: ReceiverClock;
  /** When the passer's feet and the men before him let the ball go. */
  readonly due: { readonly from: number; readonly to: number };
  /** From when on it can go: his break is seen or foreseen, and he finds the ball in the air. */
  readonly ready: number;
  /** When it goes: as soon as both are so. */
  readonly out: number;
  readonly balls: Balls;
}

/** Everything a play means to throw, and by what it is told. */
export interface Progression {
  /** The card that picks the man; null where whoever has a choice is thrown to. */
  readonly passerCard: ReadCard | null;
  readonly cards: ReadonlyMap<PlayerId, ReadCard>;
  readonly throws: readonly PlannedThrow[];
}

/**
 * Who is thrown to: the targets of the passer's card in the order of its branches; on a play without
 * one, each receiver who has a card, as the first man. Nobody else: an order nobody wrote down is
 * not made up.
 */
export function progressionOf(play: RuledPlay): Progression | null {
  const thrower = passerOf(play);
  if (!thrower) return null;
  const players = new Map(atSnap(play).map((player) => [player.id, player]));
  const cards = new Map<PlayerId, ReadCard>(
    play.cards.filter((card) => card.branches.some(isRoute)).map((card) => [card.player, card]),
  );
  const own = play.cards.find(({ player }) => player === thrower.id);
  const passerCard = own?.branches.some(isTarget) ? own : null;
  const order = passerCard
    ? [...new Set(passerCard.branches.filter(isTarget).map(({ player }) => player))]
    : [];
  const targets = order.flatMap((id) => players.get(id) ?? []);
  const groups = passerCard
    ? [targets]
    : [...cards.keys()].flatMap((id) => {
        const player = players.get(id);
        return player ? [[player]] : [];
      });
  return {
    passerCard,
    cards,
    throws: groups.flatMap((group) => inOrder(play, thrower, group, cards)),
  };
}

const isTarget = (branch: Branch): branch is Extract<Branch, { kind: 'target' }> =>
  branch.kind === 'target';

interface Way {
  readonly choice: PlannedThrow['choice'];
  readonly clock: ReceiverClock;
}

function waysOf(play: Play, player: Player, card: ReadCard | undefined): Way[] {
  if (card)
    return card.branches.filter(isRoute).map((branch) => ({
      choice: { card, branch },
      clock: branchClock(play, player, branch),
    }));
  const clock = drawnClock(play, player);
  return clock ? [{ choice: null, clock }] : [];
}

/** From when on a ball can go to him for his break alone: a choice must be seen, a route is known. */
const breakSeen = ({ choice, clock }: Way): number =>
  clock.breaks ? clock.breaks.seconds - (choice ? 0 : anticipates.value) : clock.releases;

function inOrder(
  play: Play,
  thrower: Player,
  group: readonly Player[],
  cards: ReadonlyMap<PlayerId, ReadCard>,
): PlannedThrow[] {
  const all = group.map((player) => ({ player, ways: waysOf(play, player, cards.get(player.id)) }));
  const first = all
    .find(({ ways }) => ways.length > 0)
    ?.ways.reduce((a, b) => (breakSeen(b) < breakSeen(a) ? b : a));
  if (!first) return [];
  const asks = {
    depth: first.clock.breaks?.at[1] ?? depthOfRun(first.clock),
    // What holds a man up on a route of his own makes him late; it asks for no longer drop.
    ready: breakSeen(first) - (first.choice ? 0 : first.clock.manner.hesitate),
    reads: first.choice !== null,
    across: endsAcross(first.clock),
  };
  const passer = passerClock(play, thrower, asks);
  return all.flatMap(({ player, ways }, order) =>
    ways.map((way) => planned(play, passer, player, way, order)),
  );
}

/** The same man in the same place of the same progression, on another way. */
export const plannedOn = (
  play: Play,
  { passer, receiver, choice, order }: PlannedThrow,
  clock: ReceiverClock,
): PlannedThrow => planned(play, passer, receiver, { choice, clock }, order);

/** Who never breaks is thrown to off the drop of an intermediate route at the latest. Yards. */
const deepestRun = 12;
const depthOfRun = ({ line }: ReceiverClock): number =>
  Math.min(deepestRun, line.stem[line.stem.length - 1]?.[1] ?? 0);

function planned(
  play: Play,
  passer: PasserClock,
  receiver: Player,
  way: Way,
  order: number,
): PlannedThrow {
  const { from, to } = passer.drop.ballOut;
  const due = { from, to: to + order * resetsIn.value };
  const { clock, choice } = way;
  const throwAt = (out: number): Balls =>
    ballsTo(play.situation.code, clock.path, passer.spot, out);
  const soonest = Math.max(from, breakSeen(way));
  const balls = throwAt(soonest);
  const blind = clock.breaks
    ? Math.max(
        0,
        clock.breaks.eyes + findsBall.value - (balls.usual?.caught ?? Number.POSITIVE_INFINITY),
      )
    : 0;
  const out = soonest + blind;
  return {
    receiver,
    choice,
    order,
    passer,
    clock,
    due,
    ready: blind > 0 ? out : breakSeen(way),
    out,
    balls: blind > 0 ? throwAt(out) : balls,
  };
}
