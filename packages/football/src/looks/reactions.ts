import type { Point } from '../geometry.ts';
import { type ReactionId, reactionIdSchema } from '../ids.ts';
import type { Level, Move, Reaction } from '../look.ts';
import type { Player } from '../play.ts';
import { outSign, type Picture, widest } from './picture.ts';
import { type Flank, type Job, type Zone, zoneSchema } from './recipe.ts';
import { zonePoint, zones } from './zones.ts';

/** A defender on his spot, as far as his reactions depend on it. */
export interface Standing {
  readonly level: Level;
  readonly at: Point;
  readonly job: Job;
  /** The man he has been given. */
  readonly man: Player | null;
  /** He is the outermost of his front, or the nearest man to an inside receiver: he can be read. */
  readonly isEdge: boolean;
  readonly isNearSlot: boolean;
}

/** What he may do: first what the call asks, then what his place lets him do instead. No two share an id. */
export function reactionsOf(standing: Standing, picture: Picture): [Reaction, ...Reaction[]] {
  const call = called(standing.job, standing, picture);
  const seen = new Set<ReactionId>([call.id]);
  const others = alternatives(standing, picture).filter(({ id }) => !seen.has(id) && seen.add(id));
  return [call, ...others];
}

function called(job: Job, standing: Standing, picture: Picture): Reaction {
  switch (job.kind) {
    case 'rush':
      return rush(picture);
    case 'zone':
      return drop(job.zone, job.side, picture);
    case 'man':
      return standing.man
        ? reaction('man', 'man', `takes ${standing.man.label} man to man`, standing.man.at)
        : called(job.free, standing, picture);
    case 'wall': {
      const receiver = picture.receivers[job.side][job.receiver - 1];
      return receiver ? wall(receiver, picture) : drop('hook', job.side, picture);
    }
  }
}

/** What a level may do besides its call. Common practice, no single source. */
function alternatives(standing: Standing, picture: Picture): Reaction[] {
  const flank: Flank = standing.at[0] >= picture.ball ? 'strong' : 'weak';
  const zone = (name: Zone): Reaction => drop(name, flank, picture);
  const receiver = readsWhom(standing.at, flank, picture);
  const onReceiver = receiver ? [wall(receiver, picture), widen(receiver, picture)] : [];
  const sit = reaction('sit', 'sit', 'sits where he stands', standing.at);
  const slotPlayer = [...onReceiver, rush(picture), zone('hook'), zone('curlFlat'), sit];
  const byLevel: Readonly<Record<Level, Reaction[]>> = {
    line: [rush(picture), zone('hook'), ...(standing.isEdge ? [peel(flank, picture)] : [])],
    second: slotPlayer,
    corner: [zone('third'), zone('flat'), rush(picture)],
    deep: [zone('robber'), ...onReceiver.slice(0, 1), zone('half')],
  };
  return standing.isNearSlot
    ? [...byLevel[standing.level], ...slotPlayer]
    : byLevel[standing.level];
}

/** The receiver he would play on his side: the nearest inside one, else #1. */
function readsWhom(at: Point, flank: Flank, { receivers }: Picture): Player | undefined {
  const [first, ...slots] = receivers[flank];
  return (
    slots.reduce<Player | undefined>(
      (best, slot) =>
        best && Math.abs(best.at[0] - at[0]) <= Math.abs(slot.at[0] - at[0]) ? best : slot,
      undefined,
    ) ?? first
  );
}

const rush = (picture: Picture): Reaction =>
  reaction('rush', 'rush', 'rushes the passer', picture.rushTo);

function drop(zone: Zone, flank: Flank, picture: Picture): Reaction {
  const { move, says } = zones[zone];
  return reaction(zone, move, says, zonePoint(zone, flank, picture));
}

/** A yard inside him, across his way in. */
function wall(receiver: Player, picture: Picture): Reaction {
  const inside = receiver.at[0] > picture.ball ? -1 : 1;
  const to: Point = [receiver.at[0] + inside, 6];
  return reaction('wall', 'wall', `walls ${receiver.label} from the inside`, to);
}

function widen(receiver: Player, picture: Picture): Reaction {
  const outside = receiver.at[0] > picture.ball ? 1 : -1;
  const x = Math.min(Math.max(receiver.at[0] + outside * 3, -widest), widest);
  return reaction('widen', 'widen', `widens with ${receiver.label}`, [x, 4]);
}

/** An end man who comes off his rush to the back or the flat. */
const peel = (flank: Flank, picture: Picture): Reaction =>
  reaction('widen', 'widen', 'peels off to the flat', [
    picture.ball + outSign(flank) * (picture.line[flank].edge + 5),
    2,
  ]);

type ReactionName = Zone | 'rush' | 'man' | 'wall' | 'widen' | 'sit';

/** Read once: every reaction of every look on every drag has one of these ids. */
const ids = new Map<ReactionName, ReactionId>(
  ([...zoneSchema.options, 'rush', 'man', 'wall', 'widen', 'sit'] as const).map((name) => [
    name,
    reactionIdSchema.parse(name),
  ]),
);

const reaction = (name: ReactionName, move: Move, says: string, to: Point): Reaction => ({
  id: ids.get(name) ?? reactionIdSchema.parse(name),
  move,
  says,
  to,
});
