import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import { doingOf } from '../facts/sighting.ts';
import { afresh, type Keep } from '../keep.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { type ReaderCard, readerCards } from '../same-page/reader-card.ts';
import { Clocks } from '../throws/clocks.ts';
import { type Answers, answersOf, type Outlet, outletsBefore } from './answers.ts';
import { type Blocking, blockingOf, isPass } from './blockers.ts';
import type { PickUp } from './pick-up.ts';
import { type FreeRusher, pickUpsOf } from './pick-ups.ts';

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
export function protectingOf(
  play: RuledPlay,
  readers: readonly ReaderCard[] = readerCards(play),
  clocks: Clocks = new Clocks(play),
  keep: Keep = afresh,
): Protecting | null {
  if (!isPass(play)) return null;
  const found = blockingOf(play);
  const blocking = found && keep.same('blocking', found);
  const answers = blocking && answersOf(play, readers, clocks);
  if (!answers) return null;
  const cards = blocking.helpers.map(
    ({ card }) => readers.find((one) => one.card === card) ?? null,
  );
  const { code } = play.situation;
  const spot = keep.same('protected spot', answers.passer.spot);
  const pickUps = keep.of('pick-ups', pickUpsOf, code, blocking, spot, keep.list('helpers', cards));
  return {
    blocking,
    answers,
    before: (look, reactions) => {
      const doing = doingOf(look, reactions);
      const { pickUp: picked, first } = pickUps.before(look, doing);
      const { helpers, line } = blocking;
      const outnumbered = picked.rushers > line.length + helpers.length;
      const head = { look, reactions, pickUp: picked, first, outnumbered };
      if (!first) return { ...head, outlets: [], thrown: null };
      const outlets = outletsBefore(answers, look, doing, staying(blocking, picked));
      return {
        ...head,
        outlets: [...outlets].sort((a, b) => a.ready - b.ready),
        thrown: thrownTo(answers, look, doing, outlets),
      };
    },
  };
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
  doing: readonly number[],
  outlets: readonly Outlet[],
): Outlet | null {
  const branch = passerCard?.before(look).reading(doing).branch;
  return branch?.kind === 'target'
    ? (outlets.find(({ player }) => player.id === branch.player) ?? null)
    : null;
}
