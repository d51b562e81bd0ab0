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
  const pictures = throws.map((): Way[] => []);
  for (const look of looks) {
    const before = readers.map((reader) => reader.before(look));
    for (const way of waysBefore(look, before)) {
      const picked = passer?.before(look).when(way.man, way.does).branch ?? null;
      for (const [i, planned] of throws.entries()) {
        if (isAsked(planned, passerCard !== null, picked, before, way)) pictures[i]?.push(way);
      }
    }
  }
  return throws.map((planned, i) => ({ planned, pictures: pictures[i] ?? [] }));
}

const runs = ({ card }: ReaderCard): boolean => card.branches.some(({ kind }) => kind === 'route');

function isAsked(
  { receiver, choice }: PlannedThrow,
  isPicked: boolean,
  picked: Branch | null,
  before: readonly BeforeLook[],
  { man, does }: Way,
): boolean {
  if (isPicked && !(picked?.kind === 'target' && picked.player === receiver.id)) return false;
  if (!choice) return true;
  for (const one of before) {
    if (one.reader.card.player !== receiver.id) continue;
    return one.when(man, does).branch?.id === choice.branch.id;
  }
  return false;
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
