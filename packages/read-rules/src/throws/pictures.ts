import type { AlignedLook, Defender } from '@stemline/football/look';
import type { Branch } from '../card.ts';
import type { BeforeLook, ReaderCard } from '../same-page/reader-card.ts';
import type { PlannedThrow, Progression } from './planned.ts';
import { type Way, waysOf } from './ways.ts';

/** A throw with every way of every look in which the cards ask for it. */
export interface Thrown {
  readonly planned: PlannedThrow;
  readonly pictures: readonly Way[];
}

/**
 * Every throw before every look: as called, and with each other reaction of each card's key. What is
 * thrown is what the cards say, so nothing is thrown where a card has no answer.
 */
export function picturesOf(
  { passerCard, throws }: Progression,
  cards: readonly ReaderCard[],
  looks: readonly AlignedLook[],
): readonly Thrown[] {
  const passer = cards.find(({ card }) => card === passerCard) ?? null;
  const receivers = cards.filter(runs);
  const readers = passer && !runs(passer) ? [...receivers, passer] : receivers;
  const wanted = throws.map(
    (planned): Wanted => ({
      planned,
      reader: planned.choice
        ? readers.findIndex(({ card }) => card.player === planned.receiver.id)
        : null,
      pictures: [],
    }),
  );
  const picker = passer ? readers.indexOf(passer) : -1;
  for (const look of looks) {
    const before = readers.map((reader) => reader.before(look));
    for (const way of waysBefore(look, before)) {
      const picked = before[picker]?.when(way.man, way.does).branch ?? null;
      for (const one of wanted)
        if (isAsked(one, passerCard !== null, picked, before, way)) one.pictures.push(way);
    }
  }
  return wanted;
}

interface Wanted extends Thrown {
  /** Whose card must come to it; null where it hangs on nobody's. */
  readonly reader: number | null;
  readonly pictures: Way[];
}

const runs = ({ card }: ReaderCard): boolean => card.branches.some(({ kind }) => kind === 'route');

function isAsked(
  { planned: { receiver, choice }, reader }: Wanted,
  isPicked: boolean,
  picked: Branch | null,
  before: readonly BeforeLook[],
  { man, does }: Way,
): boolean {
  if (isPicked && !(picked?.kind === 'target' && picked.player === receiver.id)) return false;
  if (!choice || reader === null) return true;
  return before[reader]?.when(man, does).branch?.id === choice.branch.id;
}

/** As called, then one key at a time doing something else. */
function waysBefore(look: AlignedLook, before: readonly BeforeLook[]): readonly Way[] {
  const ways = waysOf(look);
  const all = [ways.called];
  const keys: number[] = [];
  for (const { keyMan } of before) {
    if (keyMan < 0 || keys.includes(keyMan)) continue;
    keys.push(keyMan);
    const { reactions } = look.defenders[keyMan] as Defender;
    for (let does = 1; does < reactions.length; does++) all.push(ways.when(keyMan, does));
  }
  return all;
}
