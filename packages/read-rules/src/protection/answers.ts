import { receivers } from '@stemline/football/count';
import { timeAt } from '@stemline/football/footwork/timed-path';
import type { PlayerId } from '@stemline/football/ids';
import { eligibleReceivers } from '@stemline/football/legality/line';
import type { AlignedLook } from '@stemline/football/look';
import type { Player } from '@stemline/football/play';
import { atSnap } from '@stemline/football/snap';
import type { BranchId, ReadCard } from '../card.ts';
import {
  dropsFrom,
  type First,
  type PasserClock,
  passerClock,
  passerOf,
} from '../clock/passer-clock.ts';
import { endsAcross, type ReceiverClock } from '../clock/receiver-clock.ts';
import { anticipates } from '../clock/values.ts';
import { isRoute } from '../reader.ts';
import type { RuledPlay } from '../ruled-play.ts';
import type { ReaderCard } from '../same-page/reader-card.ts';
import type { Clocks } from '../throws/clocks.ts';

/** One man who may be thrown to, on one way he may run. */
export interface Outlet {
  readonly player: Player;
  /** On his card; null for a drawn route. */
  readonly branch: BranchId | null;
  /** "SWING", or what the branch or the route is called. */
  readonly way: string;
  /** When a ball can go to him, seconds from the snap. */
  readonly ready: number;
}

/** What a play can answer a free rusher with, worked out once for all looks. */
export interface Answers {
  readonly passer: PasserClock;
  readonly passerCard: ReaderCard | null;
  /** Where each may be, by his way; who has a card is where it leads him. */
  readonly outlets: readonly Outlet[];
  readonly cards: ReadonlyMap<PlayerId, ReaderCard>;
}

/** Who breaks no deeper than this can be thrown to before the drop is over: he is hot. Yards past the line. */
const hotWithin = 8;

/** A man running by without a break is thrown to over a blitzer when he is so deep. Yards past the line. */
const seamFrom = 5;

/** Null where nobody takes the snap, or nobody has anywhere to go. */
export function answersOf(
  play: RuledPlay,
  readers: readonly ReaderCard[],
  clocks: Clocks,
): Answers | null {
  const thrower = passerOf(play);
  if (!thrower) return null;
  const eligible = new Set(eligibleReceivers(play).map(({ id }) => id));
  const { left, right } = receivers(play);
  const widest = new Set([left[0]?.id, right[0]?.id]);
  const soonest = dropsFrom(thrower)[0]?.ballOut.from ?? 0;
  const cards = new Map<PlayerId, ReaderCard>();
  const ways = atSnap(play)
    .filter(({ id }) => id !== thrower.id && eligible.has(id))
    .flatMap((player): Way[] => {
      const card = play.cards.find((one) => one.player === player.id);
      const way = (clock: ReceiverClock, branch: BranchId | null, name: string): Way => ({
        player,
        branch,
        way: name,
        reads: branch !== null,
        depth:
          clock.breaks?.at[1] ??
          (clock.settles ? clock.path.marks.at(-1)?.at[1] : null) ??
          seamFrom,
        across: endsAcross(clock),
        ready: readyOf(clock, branch !== null, widest.has(player.id)),
      });
      if (card?.branches.some(isRoute)) {
        const reader = readers.find((one) => one.card.player === player.id);
        if (reader) cards.set(player.id, reader);
        return card.branches
          .filter(isRoute)
          .map((branch) => way(clocks.on(player, branch), branch.id, branch.name));
      }
      const clock = clocks.drawn(player);
      const name = play.routes[player.id]?.name;
      return clock ? [way(clock, null, name ? name : 'route')] : [];
    });
  const passerCard = cardOfPasser(readers, thrower);
  const [wanted] = [...(passerCard ? targetsOf(passerCard.card) : cards.keys())];
  const his = ways.filter(({ player }) => player.id === wanted);
  const first = (his.length > 0 ? his : ways).reduce<Way | null>(
    (best, one) => (best && best.ready <= one.ready ? best : one),
    null,
  );
  if (!first) return null;
  // A man who is free at once is no reason for a longer drop, nor one who is thrown to by choice.
  const passer = passerClock(play, thrower, first.reads ? first : { ...first, ready: 0 });
  const { from, to } = passer.drop.ballOut;
  const inRhythm = (from + to) / 2;
  const outlets = ways
    .filter(({ ready }) => Number.isFinite(ready))
    .map(({ player, branch, way, depth, ready }) => ({
      player,
      branch,
      way,
      ready: Math.max(ready, depth <= hotWithin ? soonest : inRhythm),
    }));
  return { passer, passerCard, outlets, cards };
}

interface Way extends First, Omit<Outlet, 'ready'> {}

/** Seen or foreseen at the break; a man without one when he is past the linebackers, unless he is the widest. */
function readyOf(
  { breaks, path, settles, drawnUntil, releases }: ReceiverClock,
  reads: boolean,
  isWidest: boolean,
): number {
  if (breaks) return Math.max(releases, breaks.seconds - (reads ? 0 : anticipates.value));
  if (settles) return drawnUntil;
  // A fade to the widest man is thrown by choice, not because somebody is free.
  if (isWidest) return Number.POSITIVE_INFINITY;
  const up = seamFrom - path.from[1];
  return timeAt(path, Math.min(up, path.length)) ?? drawnUntil;
}

const cardOfPasser = (readers: readonly ReaderCard[], { id }: Player): ReaderCard | null =>
  readers.find(
    ({ card }) =>
      card.player === id &&
      card.rows.length > 0 &&
      card.branches.some(({ kind }) => kind === 'target'),
  ) ?? null;

const targetsOf = ({ branches }: ReadCard): PlayerId[] =>
  branches.flatMap((branch) => (branch.kind === 'target' ? [branch.player] : []));

/** What the men who are not blocking can be thrown to before a look: each on the way his card leads him. */
export function outletsBefore(
  { outlets, cards }: Answers,
  look: AlignedLook,
  doing: readonly number[],
  blocking: ReadonlySet<PlayerId>,
): readonly Outlet[] {
  const led = new Map<PlayerId, BranchId | null>();
  for (const [id, reader] of cards)
    led.set(id, reader.before(look).reading(doing).branch?.id ?? null);
  return outlets.filter(
    ({ player, branch }) =>
      !blocking.has(player.id) && (branch === null || led.get(player.id) === branch),
  );
}
