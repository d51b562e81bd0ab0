import type { PlayerId } from '@stemline/football/ids';
import type { Play, Player } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import type { Branch, ReadCard, RouteBranch } from '../card.ts';
import { type First, type PasserClock, passerClock, passerOf } from '../clock/passer-clock.ts';
import { endsAcross, type ReceiverClock } from '../clock/receiver-clock.ts';
import { anticipates, findsBall, resetsIn } from '../clock/values.ts';
import { afresh, type Keep } from '../keep.ts';
import { isRoute } from '../reader.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { type Balls, ballsTo } from './ball.ts';
import { Clocks } from './clocks.ts';

/** Somebody the play means to throw to, on one way he may run. Seconds from the snap. */
export interface PlannedThrow {
  readonly receiver: Player;
  /** The play without anybody else on it. */
  readonly alone: Play;
  /** The branch of his card; null for a drawn route. */
  readonly choice: { readonly branch: RouteBranch } | null;
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
  readonly throws: readonly PlannedThrow[];
}

/**
 * Who is thrown to: the targets of the passer's card in the order of its branches; on a play without
 * one, each receiver who has a card, as the first man. Nobody else: an order nobody wrote down is
 * not made up.
 */
export function progressionOf(
  play: RuledPlay,
  clocks: Clocks = new Clocks(play),
  keep: Keep = afresh,
): Progression | null {
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
    throws: groups.flatMap((group) => inOrder({ play, clocks, keep }, thrower, group, cards)),
  };
}

const isTarget = (branch: Branch): branch is Extract<Branch, { kind: 'target' }> =>
  branch.kind === 'target';

interface On {
  readonly play: RuledPlay;
  readonly clocks: Clocks;
  readonly keep: Keep;
}

/** A man on one way he may run. */
interface Run {
  readonly alone: Play;
  readonly branch: RouteBranch | null;
  readonly clock: ReceiverClock;
}

function runsOf({ clocks }: On, player: Player, card: ReadCard | undefined): Run[] {
  const alone = clocks.alone(player);
  if (card)
    return card.branches
      .filter(isRoute)
      .map((branch) => ({ alone, branch, clock: clocks.on(player, branch) }));
  const clock = clocks.drawn(player);
  return clock ? [{ alone, branch: null, clock }] : [];
}

/** From when on a ball can go to him for his break alone: a choice must be seen, a route is known. */
const breakSeen = (branch: RouteBranch | null, clock: ReceiverClock): number =>
  clock.breaks ? clock.breaks.seconds - (branch ? 0 : anticipates.value) : clock.releases;

/** Breaks this near to each other in depth are one break to a passer's feet. Yards. */
const abreast = 0.5;

/**
 * By when a drop has to wait for a first man. What holds him up on a route of his own makes him late;
 * it asks for no longer drop. Of a choice he waits for every way that breaks as deep: who sits has to
 * stop first, who runs on has not.
 */
function seenOf({ branch, clock }: Run, ways: readonly Run[]): number {
  if (!branch) return breakSeen(branch, clock) - clock.manner.hesitate;
  const depth = clock.breaks?.at[1] ?? 0;
  return Math.max(
    ...ways
      .filter(
        (way) =>
          way.clock.manner.hesitate === clock.manner.hesitate &&
          Math.abs((way.clock.breaks?.at[1] ?? depth) - depth) <= abreast,
      )
      .map((way) => breakSeen(way.branch, way.clock)),
  );
}

function inOrder(
  on: On,
  thrower: Player,
  group: readonly Player[],
  cards: ReadonlyMap<PlayerId, ReadCard>,
): PlannedThrow[] {
  const { play, keep } = on;
  const all = group.map((player) => ({ player, runs: runsOf(on, player, cards.get(player.id)) }));
  const ways = all.find(({ runs }) => runs.length > 0)?.runs ?? [];
  const soonest = ways.reduce<Run | null>(
    (a, b) => (a && breakSeen(a.branch, a.clock) <= breakSeen(b.branch, b.clock) ? a : b),
    null,
  );
  if (!soonest) return [];
  const { branch, clock } = soonest;
  const first: First = {
    depth: clock.breaks?.at[1] ?? depthOfRun(clock),
    ready: seenOf(soonest, ways),
    reads: branch !== null,
    across: endsAcross(clock),
  };
  const whose = group[0]?.id ?? '';
  const passer = keep.same(`passer ${whose}`, passerClock(play, thrower, first));
  return all.flatMap(({ player, runs }, order) =>
    runs.map(({ alone, branch, clock }) =>
      keep.of(
        `throw ${player.id} ${branch?.id ?? ''}`,
        planned,
        passer,
        alone,
        branch,
        clock,
        order,
      ),
    ),
  );
}

/** The same man in the same place of the same progression, on another way. */
export const plannedOn = (
  { passer, alone, choice, order }: PlannedThrow,
  clock: ReceiverClock,
): PlannedThrow => planned(passer, alone, choice?.branch ?? null, clock, order);

/** Who never breaks is thrown to off the drop of an intermediate route at the latest. Yards. */
const deepestRun = 12;
const depthOfRun = ({ line }: ReceiverClock): number =>
  Math.min(deepestRun, line.stem[line.stem.length - 1]?.[1] ?? 0);

function planned(
  passer: PasserClock,
  alone: Play,
  branch: RouteBranch | null,
  clock: ReceiverClock,
  order: number,
): PlannedThrow {
  const { from, to } = passer.drop.ballOut;
  const due = { from, to: to + order * resetsIn.value };
  const { code } = alone.situation;
  const seen = breakSeen(branch, clock);
  const soonest = Math.max(from, seen);
  const balls = ballsTo(code, clock.path, passer.spot, soonest);
  const blind = clock.breaks ? blindFor(clock.breaks.eyes, balls) : 0;
  const out = soonest + blind;
  return {
    receiver: alone.players[0] as Player,
    alone,
    choice: branch && { branch },
    order,
    passer,
    clock,
    due,
    ready: blind > 0 ? out : seen,
    out,
    balls: blind > 0 ? ballsTo(code, clock.path, passer.spot, out) : balls,
  };
}

/** How long after it has come he would first find the ball. Seconds. */
const blindFor = (eyes: number, { usual }: Balls): number =>
  Math.max(0, eyes + findsBall.value - (usual?.caught ?? Number.POSITIVE_INFINITY));
