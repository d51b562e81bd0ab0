import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender, ReactionChoice } from '@stemline/football/look';
import type { ReadCard } from '../card.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { type ReaderCard, readerCard, readingOf } from '../same-page/reader-card.ts';
import { type Answers, answersOf, type Outlet, outletsBefore } from './answers.ts';
import { arrival } from './arrival.ts';
import { type Blocking, blockingOf, type HelpingMan, isPass } from './blockers.ts';
import { type PickUp, pickUp } from './pick-up.ts';

/** A rusher whom nobody has. */
export interface FreeRusher {
  readonly rusher: Defender;
  /** When he is on the passer, seconds from the snap. */
  readonly arrives: number;
}

/** One look, its reactions, and what the protection makes of them. */
export interface Protected {
  readonly look: AlignedLook;
  readonly reactions: ReactionChoice;
  readonly pickUp: PickUp;
  /** The one who is there first; null where everybody is blocked. */
  readonly first: FreeRusher | null;
  /** More come than can be blocked, whoever blocks whom. */
  readonly outnumbered: boolean;
  /** Who can be thrown to, the quickest first. Worked out where somebody is free. */
  readonly outlets: readonly Outlet[];
  /** Whom the passer's card throws to; null where it has no answer, or there is no card. */
  readonly thrown: Outlet | null;
}

/** A play's protection, ready to be put before any look. */
export interface Protecting {
  readonly blocking: Blocking;
  readonly answers: Answers;
  readonly before: (look: AlignedLook, reactions: ReactionChoice) => Protected;
}

/** Null where there is nothing to protect, or it cannot be told who does. Never throws. */
export function protectingOf(play: RuledPlay): Protecting | null {
  if (!isPass(play)) return null;
  const blocking = blockingOf(play);
  const answers = blocking && answersOf(play);
  if (!answers) return null;
  const cards = new Map<ReadCard, ReaderCard | null>(
    blocking.helpers.flatMap(({ card }) => (card ? [[card, readerCard(play, card)] as const] : [])),
  );
  const { code } = play.situation;
  return {
    blocking,
    answers,
    before: (look, reactions) => {
      const seconds = new Map<Defender, number>();
      const arrives = (rusher: Defender): number => {
        const known = seconds.get(rusher) ?? arrival(code, rusher, answers.passer.spot);
        seconds.set(rusher, known);
        return known;
      };
      const own = new Map<ReadCard, DefenderId | null>();
      const mayTake = ({ card }: HelpingMan, rusher: Defender): boolean => {
        if (!card) return true;
        const known = own.get(card);
        const his = known === undefined ? blocksByCard(cards.get(card), look, reactions) : known;
        own.set(card, his);
        return his === rusher.id;
      };
      const picked = pickUp(blocking, look, reactions, arrives, mayTake);
      const first = picked.free.reduce<FreeRusher | null>((soonest, rusher) => {
        const at = arrives(rusher);
        return soonest && soonest.arrives <= at ? soonest : { rusher, arrives: at };
      }, null);
      const { helpers, line } = blocking;
      const outnumbered = picked.rushers > line.length + helpers.length;
      const head = { look, reactions, pickUp: picked, first, outnumbered };
      if (!first) return { ...head, outlets: [], thrown: null };
      const outlets = outletsBefore(answers, look, reactions, staying(blocking, picked));
      return {
        ...head,
        outlets: [...outlets].sort((a, b) => a.ready - b.ready),
        thrown: thrownTo(answers, look, reactions, outlets),
      };
    },
  };
}

/** The man whom his card tells him to block: his key, where it comes to a block. */
function blocksByCard(
  reader: ReaderCard | null | undefined,
  look: AlignedLook,
  reactions: ReactionChoice,
): DefenderId | null {
  if (!reader) return null;
  const { key, branch } = readingOf(reader, look, reactions);
  return branch?.kind === 'block' && key.kind === 'one' ? key.defender.id : null;
}

/** Who does not get out: helpers who stay, and those who have somebody to block. */
function staying({ helpers }: Blocking, { blocks }: PickUp): ReadonlySet<PlayerId> {
  const busy = new Set(blocks.map(({ blocker }) => blocker.id));
  return new Set(
    helpers.flatMap(({ player, releases }) =>
      !releases || busy.has(player.id) ? [player.id] : [],
    ),
  );
}

function thrownTo(
  { passerCard }: Answers,
  look: AlignedLook,
  reactions: ReactionChoice,
  outlets: readonly Outlet[],
): Outlet | null {
  const branch = passerCard && readingOf(passerCard, look, reactions).branch;
  return branch?.kind === 'target'
    ? (outlets.find(({ player }) => player.id === branch.player) ?? null)
    : null;
}
