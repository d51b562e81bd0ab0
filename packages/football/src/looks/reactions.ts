import type { Point } from '../geometry.ts';
import type { Level, Reaction } from '../look.ts';
import type { Player } from '../play.ts';
import type { Picture } from './picture.ts';
import type { Flank, Job } from './recipe.ts';
import type { Repertoire } from './repertoire.ts';

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
export function reactionsOf(standing: Standing, all: Repertoire): readonly Reaction[] {
  const may = [called(standing.job, standing, all)];
  const flank: Flank = standing.at[0] >= all.picture.ball ? 'strong' : 'weak';
  const receiver = readsWhom(standing.at, flank, all.picture);
  switch (standing.level) {
    case 'line':
      add(may, all.rush());
      add(may, all.drop('hook', flank));
      if (standing.isEdge) add(may, all.peel(flank));
      break;
    case 'second':
      addInSlot(may, standing, flank, receiver, all);
      break;
    case 'corner':
      add(may, all.drop('third', flank));
      add(may, all.drop('flat', flank));
      add(may, all.rush());
      break;
    case 'deep':
      add(may, all.drop('robber', flank));
      if (receiver) add(may, all.wall(receiver));
      add(may, all.drop('half', flank));
      break;
  }
  if (standing.isNearSlot) addInSlot(may, standing, flank, receiver, all);
  return may;
}

function called(job: Job, standing: Standing, all: Repertoire): Reaction {
  switch (job.kind) {
    case 'rush':
      return all.rush();
    case 'zone':
      return all.drop(job.zone, job.side);
    case 'man':
      return standing.man ? all.man(standing.man) : called(job.free, standing, all);
    case 'wall': {
      const receiver = all.picture.receivers[job.side][job.receiver - 1];
      return receiver ? all.wall(receiver) : all.drop('hook', job.side);
    }
  }
}

/** What a man near an inside receiver may do besides his call. Common practice, no single source. */
function addInSlot(
  may: Reaction[],
  { at }: Standing,
  flank: Flank,
  receiver: Player | undefined,
  all: Repertoire,
): void {
  if (receiver) {
    add(may, all.wall(receiver));
    add(may, all.widen(receiver));
  }
  add(may, all.rush());
  add(may, all.drop('hook', flank));
  add(may, all.drop('curlFlat', flank));
  add(may, all.sit(at));
}

function add(may: Reaction[], reaction: Reaction): void {
  for (const { id } of may) if (id === reaction.id) return;
  may.push(reaction);
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
